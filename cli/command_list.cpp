#include "desk/listing.hpp"
#include "names.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    std::string kind;
    desk::list_request which;
    bool csv = false;
};

void run_list(const options& how, context& with) {
    const auto& kind = *records::find_kind(how.kind);
    auto which = how.which;
    desk::looked_at at{with.open()};
    if (!which.site.empty()) which.site = id_meant(at.file, records::kind::site, which.site, with);
    if (!which.grower.empty()) which.grower = id_meant(at.file, records::kind::grower, which.grower, with);
    if (how.csv)
        desk::csv_of_records(at, kind, which, [&](const auto& line) { with.out << line; });
    else
        with.print(desk::records_of(at, kind, which));
}

} // namespace

void add_list(const command& program, context& with) {
    auto sub = program.add("list", "the active records of a kind");
    auto& how = program.keep<options>();
    std::vector<std::string> kinds;
    for (const auto& kind : records::all_kinds())
        kinds.emplace_back(kind.file);
    sub.value("KIND", how.kind, "such as tickets").required().one_of(kinds);
    sub.value("--site", how.which.site, "only what is of this site, by id or name");
    sub.value("--grower", how.which.grower, "only what is of this grower, by id, name, e-mail or telephone");
    sub.value("--from", how.which.from, "only from this day on, such as 2026-05-14");
    sub.value("--to", how.which.to, "only to this day");
    sub.value("--words", how.which.words, "only what has each of these words, also in its grower's or site's name");
    sub.value("--as-of", how.which.as_of, "as the ledger stood after this entry");
    sub.flag("--csv", how.csv, "as CSV; texts that a spreadsheet would take for a formula get an apostrophe");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_list(how, with); });
}

} // namespace tarewell::cli
