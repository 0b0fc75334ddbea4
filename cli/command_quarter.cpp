#include "closing.hpp"
#include "desk/periods.hpp"
#include "desk/quarter.hpp"
#include "desk/view_figures.hpp"
#include "report_writer.hpp"

namespace tarewell::cli {
namespace {

struct show_options {
    std::string quarter;
    std::optional<records::entry_no> as_of;
};

/// A subcommand that asks one thing of a period.
template <class Answer>
void add_asking(const command& quarter, const char* name, const char* what, Answer answer_of, context& with) {
    auto asks = quarter.add(name, what);
    auto& options = quarter.keep<show_options>();
    asks.value("QUARTER", options.quarter, one_of_periods).required();
    asks.value("--as-of", options.as_of, "as the ledger stood after this entry");
    asks.flag("--json", with.json, "JSON output");
    asks.does([&options, answer_of, &with] {
        with.print(answer_of(desk::view_quarter(with.open(), options.quarter, options.as_of)));
    });
}

/// A subcommand that fills in one form.
void add_form(const command& quarter, const char* name, const char* what, const char* form, const char* example,
              context& with) {
    auto sub = quarter.add(name, what);
    auto& request = quarter.keep<quarter_form>();
    request.form = form;
    sub.value("QUARTER", request.quarter, one_of_periods).required();
    sub.value("FILE", request.file, std::string{"where to write it, such as "} + example).required();
    sub.value("--as-of", request.as_of, "as the ledger stood after this entry");
    sub.flag("--names", request.with_names, "print growers' names beside their ids");
    sub.value("--templates", request.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.does([&request, &with] { write_form(request, with); });
}

} // namespace

void add_quarter(const command& program, context& with) {
    auto sub = program.add("quarter", "the figures of a quarter, a year, the whole award or a span");
    sub.wants_subcommand();
    auto show = sub.add("show", "show all figures of a quarter or another period");
    auto& options = program.keep<show_options>();
    show.value("QUARTER", options.quarter, one_of_periods).required();
    show.value("--as-of", options.as_of, "as the ledger stood after this entry");
    show.flag("--json", with.json, "JSON output");
    show.does([&options, &with] {
        with.print(desk::figures_of(desk::view_figures(with.open(), options.quarter, options.as_of)));
    });
    add_asking(sub, "across", "a period's quarters side by side: filed, changed since, open, and their sums",
               desk::side_by_side, with);
    add_asking(sub, "pace", "the goal, how far the award is, what is needed to reach it, and what the tons stand for",
               desk::pace_of, with);
    add_form(sub, "workbook", "write the workbook of a quarter or another period for the funder", render::summary_form,
             "2026-Q3.xlsx", with);
    add_form(sub, "page", "write the page of a quarter or another period, one HTML file", "quarter_page.mustache",
             "2026-Q3.html", with);
    add_closing(sub, with);
    add_note(sub, with);
}

} // namespace tarewell::cli
