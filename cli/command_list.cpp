#include "context.hpp"
#include "desk/journal.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    std::string kind;
    std::optional<records::entry_no> as_of;
    bool csv = false;
};

void run_list(const options& how, context& with) {
    const auto& kind = *records::find_kind(how.kind);
    const desk::looked_at at{with.open()};
    if (how.csv)
        desk::csv_of_records(at, kind, how.as_of, [&](const auto& line) { with.out << line; });
    else
        with.print(desk::records_of(at, kind, how.as_of));
}

} // namespace

void add_list(const command& program, context& with) {
    auto sub = program.add("list", "the active records of a kind");
    auto& how = program.keep<options>();
    std::vector<std::string> kinds;
    for (const auto& kind : records::all_kinds())
        kinds.emplace_back(kind.file);
    sub.value("KIND", how.kind, "such as tickets").required().one_of(kinds);
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--csv", how.csv, "as CSV; texts that a spreadsheet would take for a formula get an apostrophe");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_list(how, with); });
}

} // namespace tarewell::cli
