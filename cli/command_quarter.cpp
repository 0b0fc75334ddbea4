#include "closing.hpp"
#include "render/json.hpp"
#include "report_writer.hpp"
#include "season_view.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct show_options {
    std::string quarter;
    std::optional<ledger::entry_no> as_of;
    bool json = false;
};

void show_table(const figures::report& report, std::ostream& out) {
    out << fmt::format("{}  {} to {}, as of entry {}{}\n\n", quantity::text_of(report.basis.quarter),
                       quantity::text_of(report.basis.days.from), quantity::text_of(report.basis.days.to),
                       report.basis.as_of, report.basis.closed ? ", closed" : "");
    for (const auto& figure : report.figures) {
        std::string value = figures::text_of(figure.value);
        if (const auto* real = std::get_if<figures::real>(&figure.value))
            value = fmt::format("{:.{}f}", *real, figure.unit == "$/ton" ? 2 : 4);
        if (value.empty()) value = "-";
        out << fmt::format("{:<28}{:>14} {:<8}  {}\n", figure.name, value, figure.unit,
                           figure.reason.empty() ? figure.meaning : figure.reason);
    }
}

void run_show(const show_options& options, context& with) {
    const auto shown = view_quarter(with, options.quarter, options.as_of);
    if (options.json)
        with.out << render::json_text(shown.report);
    else
        show_table(shown.report, with.out);
}

/// A subcommand that fills in one form.
void add_form(const command& quarter, const char* name, const char* what, const char* form, const char* example,
              context& with) {
    auto sub = quarter.add(name, what);
    auto& request = quarter.keep<form_request>();
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
    show.flag("--json", options.json, "for machines");
    show.does([&options, &with] { run_show(options, with); });
    add_form(sub, "workbook", "write the quarter's workbook for the funder", summary_form, "2026-Q3.xlsx", with);
    add_form(sub, "page", "write the quarter's page, one HTML file", "quarter_page.mustache", "2026-Q3.html", with);
    add_closing(sub, with);
    add_note(sub, with);
}

} // namespace tarewell::cli
