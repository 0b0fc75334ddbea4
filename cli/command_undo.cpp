#include "context.hpp"
#include "desk/maps.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct undo_options {
    std::vector<std::string> acts;
    std::string why;
    bool preview = false;
};

std::vector<std::int64_t> numbers_of(const std::vector<std::string>& texts) {
    std::vector<std::int64_t> numbers;
    for (const auto& each : texts) {
        if (each.empty() || each.size() > 15 || each.find_first_not_of("0123456789") != std::string::npos)
            throw records::input_error(
                fmt::format("'{}' is no act's number; see: tarewell ledger history --acts", each));
        numbers.push_back(std::stoll(each));
    }
    return numbers;
}

void run_undo(const undo_options& how, context& with) {
    const auto acts = numbers_of(how.acts);
    auto file = with.open();
    if (how.preview) return with.print(desk::undo_preview(file, acts));
    const auto change = intake::undo(file, acts, how.why, with.writing());
    if (change.entries.empty()) {
        with.out << change.note << '\n';
        return;
    }
    with.out << fmt::format("undone: {} voided (entries {} to {})\n",
                            desk::counted(change.entries.size(), "record", "records"), change.entries.front(),
                            change.entries.back());
    tell_filed(file, change.entries, with);
}

} // namespace

void add_undo(const command& program, context& with) {
    auto sub = program.add("undo", "void all that one import or record brought, such as a wrong file");
    auto& how = program.keep<undo_options>();
    sub.value("ACT", how.acts, "its number, as `tarewell ledger history --acts` lists it; several together")
        .required()
        .many();
    sub.value("--why", how.why, "why; stays in the journal");
    sub.flag("--preview", how.preview, "show what would be voided and what stands on it, and change nothing");
    sub.flag("--json", with.json, "JSON output, with --preview");
    sub.does([&how, &with] { run_undo(how, with); });
}

} // namespace tarewell::cli
