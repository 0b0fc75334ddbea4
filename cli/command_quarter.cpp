#include "closing.hpp"
#include "render/json.hpp"
#include "render/quarter_workbook.hpp"
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
        if (const auto* real = std::get_if<figures::real>(&figure.value)) value = fmt::format("{:.{}f}", *real, figure.unit == "$/ton" ? 2 : 4);
        if (value.empty()) value = "-";
        out << fmt::format("{:<28}{:>14} {:<8}  {}\n", figure.name, value, figure.unit,
                           figure.reason.empty() ? figure.meaning : figure.reason);
    }
}

void run_show(const show_options& options, context& with) {
    const auto shown = view_quarter(with, options.quarter, options.as_of);
    if (options.json) with.out << render::json_text(shown.report);
    else show_table(shown.report, with.out);
}

struct workbook_options {
    std::string quarter, file;
    std::optional<ledger::entry_no> as_of;
    bool with_names = false;
};

void run_workbook(const workbook_options& options, context& with) {
    const auto shown = view_quarter(with, options.quarter, options.as_of);
    const auto head = shown.head();
    render::write_quarter_workbook(options.file, shown.report, shown.tables(options.with_names), shown.seen.season,
                                   {ledger::hex(head.hash), head.at});
    with.out << fmt::format("wrote {}: {} as of entry {}{}\n", options.file, options.quarter, shown.seen.as_of,
                            shown.report.basis.closed ? ", as filed" : "");
}

void add_workbook(CLI::App& quarter, context& with) {
    auto* sub = quarter.add_subcommand("workbook", "write the quarter's workbook for the funder");
    auto options = std::make_shared<workbook_options>();
    sub->add_option("QUARTER", options->quarter, "such as 2026-Q3")->required();
    sub->add_option("FILE", options->file, "where to write it, such as 2026-Q3.xlsx")->required();
    sub->add_option("--as-of", options->as_of, "as the ledger stood after this entry");
    sub->add_flag("--names", options->with_names, "print growers' names beside their ids");
    sub->callback([options, &with] { run_workbook(*options, with); });
}

void add_page(CLI::App& quarter, context& with) {
    auto* sub = quarter.add_subcommand("page", "write the quarter's page, one HTML file");
    auto request = std::make_shared<form_request>();
    request->form = "quarter_page";
    sub->add_option("QUARTER", request->quarter, "such as 2026-Q3")->required();
    sub->add_option("FILE", request->file, "where to write it, such as 2026-Q3.html")->required();
    sub->add_option("--as-of", request->as_of, "as the ledger stood after this entry");
    sub->add_flag("--names", request->with_names, "print growers' names beside their ids");
    sub->add_option("--templates", request->templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub->callback([request, &with] { write_form(*request, with); });
}

} // namespace

void add_quarter(CLI::App& program, context& with) {
    auto* sub = program.add_subcommand("quarter", "the figures of a quarter");
    sub->require_subcommand(1);
    auto* show = sub->add_subcommand("show", "show all figures of a quarter");
    auto options = std::make_shared<show_options>();
    show->add_option("QUARTER", options->quarter, "such as 2026-Q3")->required();
    show->add_option("--as-of", options->as_of, "as the ledger stood after this entry");
    show->add_flag("--json", options->json, "for machines");
    show->callback([options, &with] { run_show(*options, with); });
    add_workbook(*sub, with);
    add_page(*sub, with);
    add_closing(*sub, with);
    add_note(*sub, with);
}

} // namespace tarewell::cli
