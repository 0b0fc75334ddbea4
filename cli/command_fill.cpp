#include "context.hpp"
#include "render/form_fill.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct options : render::fill_request {
    std::string quarter;
    std::optional<records::entry_no> as_of;
};

} // namespace

void add_fill(const command& report, context& with) {
    auto sub = report.add("fill", "fill an agency's own .xlsx form: figures go into the cells that are named for them");
    auto& how = report.keep<options>();
    sub.value("FORM_FILE", how.form, "the agency's file; it stays as it is").required();
    sub.value("QUARTER", how.quarter, "such as 2026-Q3").required();
    sub.value("OUT", how.file, "where to write the filled one").required();
    sub.value("--map", how.map, "a text file that says which cell is for which figure, where cells have no names");
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] {
        const auto shown = desk::view_quarter(with.open(), how.quarter, how.as_of);
        with.print(render::fill_form(how, shown));
        with.err << fmt::format("wrote {}: {} as of entry {}{}\n", how.file, how.quarter, shown.seen.as_of,
                                shown.report.basis.closed ? ", as filed" : "");
    });
}

} // namespace tarewell::cli
