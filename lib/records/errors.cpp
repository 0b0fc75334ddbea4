#include "records/errors.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::records {

std::string finding::text(const std::string& file) const {
    return fmt::format("{}:{}:{}: {}; {}", file, cell.empty() ? std::to_string(line) : cell, column, what, right);
}

namespace {
std::vector<std::string> texts(const std::string& file, const std::vector<finding>& findings) {
    std::vector<std::string> lines;
    lines.reserve(findings.size());
    for (const auto& each : findings)
        lines.push_back(each.text(file));
    return lines;
}
} // namespace

refused::refused(std::string file, std::vector<finding> findings) : refused(texts(file, findings)) {}

refused::refused(std::vector<std::string> lines)
    : input_error(fmt::format("{}", fmt::join(lines, "\n"))), lines_{std::move(lines)} {}

} // namespace tarewell::records
