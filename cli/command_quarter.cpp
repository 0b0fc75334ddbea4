#include "figures/table.hpp"
#include "render/json.hpp"
#include "render/quarter_workbook.hpp"
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
        if (const auto* real = std::get_if<figures::real>(&figure.value)) value = fmt::format("{:.4f}", *real);
        if (value.empty()) value = "-";
        out << fmt::format("{:<28}{:>14} {:<8}  {}\n", figure.name, value, figure.unit,
                           figure.reason.empty() ? figure.meaning : figure.reason);
    }
}

void run_show(const show_options& options, context& with) {
    const auto quarter = quarter_named(options.quarter);
    const auto seen = view(with, options.as_of);
    const auto report = figures::figures_of(seen.season, seen.reckoning, quarter, seen.as_of, false);
    if (options.json) with.out << render::json_text(report);
    else show_table(report, with.out);
}

struct workbook_options {
    std::string quarter, file;
    std::optional<ledger::entry_no> as_of;
    bool with_names = false;
};

void run_workbook(const workbook_options& options, context& with) {
    const auto quarter = quarter_named(options.quarter);
    const auto seen = view(with, options.as_of);
    const auto report = figures::figures_of(seen.season, seen.reckoning, quarter, seen.as_of, false);
    const auto tables = figures::evidence_tables(seen.season, seen.reckoning, report.basis, options.with_names);
    const auto head = seen.file.head_at(seen.as_of);
    render::write_quarter_workbook(options.file, report, tables, seen.season, {ledger::hex(head.hash), head.at});
    with.out << fmt::format("wrote {}: {} as of entry {}\n", options.file, options.quarter, seen.as_of);
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
}

} // namespace tarewell::cli
