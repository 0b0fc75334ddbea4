#include "closing.hpp"
#include "desk/trace.hpp"
#include "names.hpp"

namespace tarewell::cli {
namespace {

struct options {
    std::string figure, quarter, kind, key;
    std::optional<records::entry_no> as_of;
};

void run_trace(const options& how, context& with) {
    if (how.kind.empty() == how.figure.empty())
        throw records::input_error("name a figure, or a record with --record KIND --key KEY");
    if (how.quarter.empty())
        throw records::input_error("--quarter is missing; name the quarter, such as --quarter 2026-Q3");
    auto file = with.open();
    std::vector<std::string> key{how.key};
    if (how.figure.empty()) {
        desk::look_up names{file};
        names.put_ids(records::find_kind(how.kind)->which, key);
        tell_found(names, with);
    }
    const auto shown = desk::view_quarter(std::move(file), how.quarter, how.as_of);
    with.print(how.figure.empty() ? desk::figures_moved_by(shown, *records::find_kind(how.kind), key[0])
                                  : desk::rows_behind(shown, how.figure));
}

} // namespace

void add_trace(const command& program, context& with) {
    auto sub = program.add("trace", "the rows behind a figure, or the figures that a row moves");
    auto& how = program.keep<options>();
    std::vector<std::string> kinds;
    for (const auto& kind : records::recorded_kinds())
        kinds.emplace_back(kind.name);
    sub.value("FIGURE", how.figure, "a figure's name, such as diverted_weight");
    sub.value("--quarter", how.quarter, one_of_periods);
    auto record = sub.value("--record", how.kind, "a kind of record, to see what it moves").one_of(kinds);
    auto key = sub.value("--key", how.key, "the record's id");
    record.needs(key);
    key.needs(record);
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_trace(how, with); });
}

} // namespace tarewell::cli
