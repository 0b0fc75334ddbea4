#include "closing.hpp"
#include "desk/quarter.hpp"
#include "report_writer.hpp"

namespace tarewell::cli {
namespace {

struct show_options {
    std::string quarter;
    std::optional<records::entry_no> as_of;
};

/// A subcommand that fills in one form.
void add_form(const command& quarter, const char* name, const char* what, const char* form, const char* example,
              context& with) {
    auto sub = quarter.add(name, what);
    auto& request = quarter.keep<quarter_form>();
    request.form = form;
    sub.value("QUARTER", request.quarter, "such as 2026-Q3").required();
    sub.value("FILE", request.file, std::string{"where to write it, such as "} + example).required();
    sub.value("--as-of", request.as_of, "as the ledger stood after this entry");
    sub.flag("--names", request.with_names, "print growers' names beside their ids");
    sub.value("--templates", request.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.does([&request, &with] { write_form(request, with); });
}

} // namespace

void add_quarter(const command& program, context& with) {
    auto sub = program.add("quarter", "the figures of a quarter");
    sub.wants_subcommand();
    auto show = sub.add("show", "show all figures of a quarter");
    auto& options = program.keep<show_options>();
    show.value("QUARTER", options.quarter, "such as 2026-Q3").required();
    show.value("--as-of", options.as_of, "as the ledger stood after this entry");
    show.flag("--json", with.json, "JSON output");
    show.does([&options, &with] {
        with.print(desk::figures_of(desk::view_quarter(with.open(), options.quarter, options.as_of)));
    });
    add_form(sub, "workbook", "write the quarter's workbook for the funder", render::summary_form, "2026-Q3.xlsx",
             with);
    add_form(sub, "page", "write the quarter's page, one HTML file", "quarter_page.mustache", "2026-Q3.html", with);
    add_closing(sub, with);
    add_note(sub, with);
}

} // namespace tarewell::cli
