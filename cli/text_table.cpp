#include "text_table.hpp"

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

/// Characters, not bytes: continuation bytes of UTF-8 take no place.
std::size_t width(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool is_number(const std::string& text) {
    return !text.empty() && text.find_first_not_of("0123456789.,-%$ ") == std::string::npos;
}

} // namespace

text_table::text_table(std::vector<std::string> headings) : rows_{std::move(headings)} {}

void text_table::add(std::vector<std::string> cells) {
    for (auto& cell : cells)
        for (auto& c : cell)
            if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    rows_.push_back(std::move(cells));
}

void text_table::print(std::ostream& out) const {
    std::vector<std::size_t> widths(rows_.front().size());
    std::vector<bool> numbers(rows_.front().size(), rows_.size() > 1);
    for (std::size_t r = 0; r < rows_.size(); ++r)
        for (std::size_t c = 0; c < widths.size(); ++c) {
            widths[c] = std::max(widths[c], width(rows_[r][c]));
            if (r > 0 && !rows_[r][c].empty() && !is_number(rows_[r][c])) numbers[c] = false;
        }
    for (const auto& row : rows_) {
        std::string line;
        for (std::size_t c = 0; c < widths.size(); ++c) {
            const std::string gap(widths[c] - width(row[c]), ' ');
            line += numbers[c] ? gap + row[c] : row[c] + gap;
            if (c + 1 < widths.size()) line += "  ";
        }
        line.erase(line.find_last_not_of(' ') + 1);
        out << line << '\n';
    }
}

} // namespace tarewell::cli
