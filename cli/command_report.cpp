#include "figures/audit_figures.hpp"
#include "ledger/whole_file.hpp"
#include "render/csv_files.hpp"
#include "render/form_names.hpp"
#include "render/forms.hpp"
#include "render/layout_check.hpp"
#include "render/layout_json.hpp"
#include "render/layout_names.hpp"
#include "render/workbook_writer.hpp"
#include "report_writer.hpp"
#include "season_view.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

std::string templates_folder(const std::string& given, const context& with) {
    return given.empty() ? with.environment("TAREWELL_TEMPLATES") : given;
}

void show_faults(const std::vector<std::string>& faults, const char* outcome, context& with) {
    for (const auto& each : faults)
        with.err << each << '\n';
    with.err << fmt::format("refused: {} {} in the form; {}\n", faults.size(), faults.size() == 1 ? "fault" : "faults",
                            outcome);
    with.exit = bad_input;
}

struct shelf_options {
    std::string templates;
    bool json = false;
};

void run_forms(const shelf_options& options, context& with) {
    const auto forms = render::form_shelf{templates_folder(options.templates, with)}.all();
    if (options.json) {
        auto list = nlohmann::ordered_json::array();
        for (const auto& each : forms)
            list.push_back({{"form", each.name},
                            {"kind", each.workbook ? "workbook" : "page"},
                            {"sentence", each.sentence},
                            {"built_in", each.built_in}});
        with.out << list.dump(2) << '\n';
        return;
    }
    for (const auto& each : forms)
        with.out << fmt::format("{:<18}{:<10}{}{}\n", each.name, each.workbook ? "workbook" : "page", each.sentence,
                                each.built_in ? "" : " (yours)");
}

void run_names(const shelf_options& options, context& with) {
    const auto lines = render::form_name_lines();
    const auto of_layouts = render::layout_name_lines();
    if (options.json) {
        auto list = nlohmann::ordered_json::array();
        for (const auto& each : lines)
            list.push_back(
                {{"name", each.path}, {"kind", std::string{render::name_of(each.kind)}}, {"meaning", each.meaning}});
        for (const auto& each : of_layouts)
            list.push_back({{"name", each.name}, {"kind", each.kind}, {"meaning", each.meaning}});
        with.out << list.dump(2) << '\n';
        return;
    }
    for (const auto& each : lines)
        with.out << fmt::format("| {} | {} | {} |\n", each.path, render::name_of(each.kind), each.meaning);
    for (const auto& each : of_layouts)
        with.out << fmt::format("| {} | {} | {} |\n", each.name, each.kind, each.meaning);
}

struct check_options {
    std::string file;
};

void run_check(const check_options& options, context& with) {
    const auto beside = std::filesystem::absolute(options.file).parent_path().string();
    const auto checked = render::form_shelf{beside}.check(render::form_in_file(options.file));
    if (!checked.faults.empty()) return show_faults(checked.faults, "nothing was written", with);
    with.out << fmt::format("{}: every name is known and {}\n", options.file,
                            render::is_layout_file(options.file) ? "every sheet can be made" : "every tag is closed");
}

void write_layout(const form_request& request, const render::form_text& form, const render::page_input& input) {
    const auto layout = render::need_layout(form);
    if (request.csv)
        render::write_csv_folder(request.file, render::csv_of(layout, input));
    else if (request.json)
        ledger::write_whole(request.file, render::layout_json(layout, input).dump(2) + "\n");
    else
        render::write_workbook(request.file, layout, input);
}

void write_page(const form_request& request, const render::form_shelf& shelf, const render::form_text& form,
                const render::page_input& input) {
    if (request.csv) {
        const auto checked = shelf.check(form);
        if (!checked.faults.empty()) throw ledger::refused(checked.faults);
        render::write_csv_folder(request.file, render::csv_of(checked.used, input));
    } else {
        ledger::write_whole(request.file,
                            request.json ? render::page_data(input, {}).dump(2) + "\n" : shelf.fill(form, input));
    }
}

void add_shelf_options(const command& sub, shelf_options& options) {
    sub.value("--templates", options.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.flag("--json", options.json, "for machines");
}

} // namespace

void write_form(const form_request& request, context& with) {
    if (request.json && request.csv)
        throw ledger::input_error("--json writes a file and --csv a folder; give one of them");
    const render::form_shelf shelf{templates_folder(request.templates, with)};
    const auto chosen = shelf.choose(request.form, request.csv || request.file.ends_with(".xlsx"));
    const auto quarter = quarter_named(request.quarter);
    const auto file = with.open();
    const ledger::ledger_file::snapshot one_state{file};
    const auto as_of = request.as_of.value_or(figures::as_of_quarter(file, quarter));
    const auto head = file.head_at(as_of);
    auto seen = figures::view_quarter(file, quarter, as_of);
    figures::add_statistics(seen.report, seen.season, seen.reckoning);
    render::page_input input{seen.report,
                             seen.season,
                             seen.reckoning,
                             {ledger::hex(head.hash), head.at},
                             figures::adjustments(file, seen.season, seen.reckoning, seen.report.basis),
                             request.with_names};
    input.signed_by = figures::signatures_of(file, quarter, as_of);
    if (!request.site.empty() && !(input.site = seen.season.find_site(request.site)))
        throw ledger::input_error(fmt::format("there is no site '{}'; `tarewell list sites` shows all", request.site));
    if (!request.grower.empty() && !(input.grower = seen.season.find_grower(request.grower)))
        throw ledger::input_error(
            fmt::format("there is no grower '{}'; `tarewell list growers` shows all", request.grower));
    try {
        if (chosen.workbook)
            write_layout(request, chosen.form, input);
        else
            write_page(request, shelf, chosen.form, input);
    } catch (const ledger::refused& refusal) {
        return show_faults(refusal.lines(), "nothing was written", with);
    }
    if (!request.quiet)
        with.out << fmt::format("wrote {}: {} as of entry {}{}\n", request.file, request.quarter, as_of,
                                seen.report.basis.closed ? ", as filed" : "");
}

void add_report(const command& program, context& with) {
    auto sub = program.add("report", "fill in a page or workbook for a quarter, or list and check forms");
    auto& request = program.keep<form_request>();
    sub.value("FORM", request.form, "the form's name, as `tarewell report forms` lists it");
    sub.value("QUARTER", request.quarter, "such as 2026-Q3");
    sub.value("OUT", request.file, "where to write it");
    sub.value("--as-of", request.as_of, "as the ledger stood after this entry");
    sub.flag("--names", request.with_names, "print growers' names beside their ids");
    sub.value("--site", request.site, "for a form about one site: its id");
    sub.value("--grower", request.grower, "for a form about one grower: the id");
    sub.value("--templates", request.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.flag("--json", request.json, "write the workbook's sheets, or all data that a page may use, for machines");
    sub.flag("--csv", request.csv, "write a folder OUT: a CSV file for each sheet or list, and figures.csv");
    auto forms = sub.add("forms", "list all forms with a sentence each");
    auto& list = program.keep<shelf_options>();
    add_shelf_options(forms, list);
    forms.does([&list, &with] { run_forms(list, with); });
    auto names = sub.add("names", "list every name that a form may use");
    auto& all_names = program.keep<shelf_options>();
    names.flag("--json", all_names.json, "for machines");
    names.does([&all_names, &with] { run_names(all_names, with); });
    auto check = sub.add("check", "check a form of your own: names, tags, parts");
    auto& check_what = program.keep<check_options>();
    check
        .value("FORM_FILE", check_what.file,
               "a page's .mustache (its parts are looked for beside it) or a workbook's .layout.toml")
        .required();
    check.does([&check_what, &with] { run_check(check_what, with); });
    sub.does([&request, &with] {
        if (request.file.empty()) throw missing_argument("FORM, QUARTER and OUT (or forms, names, check)");
        write_form(request, with);
    });
}

} // namespace tarewell::cli
