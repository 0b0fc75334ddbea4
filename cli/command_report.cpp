#include "closing.hpp"
#include "report_writer.hpp"

#include "names.hpp"
#include "render/form_lists.hpp"
#include "render/long_sheets.hpp"

#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

void run_check(const std::string& file, context& with) {
    const auto beside = std::filesystem::absolute(file).parent_path().string();
    const auto checked = render::form_shelf{beside}.check(render::form_in_file(file));
    if (!checked.faults.empty()) throw render::form_refused(checked.faults);
    with.out << fmt::format("{}: every name is known and {}\n", file,
                            render::is_layout_file(file) ? "every sheet can be made" : "every tag is closed");
}

} // namespace

void write_form(quarter_form how, context& with) {
    if (how.json && how.csv) throw records::input_error("--json writes a file and --csv a folder; give one of them");
    how.templates = with.templates_folder(how.templates);
    auto file = with.open();
    if (!how.site.empty()) how.site = id_meant(file, records::kind::site, how.site, with);
    if (!how.grower.empty()) how.grower = id_meant(file, records::kind::grower, how.grower, with);
    const auto shown = desk::view_quarter(std::move(file), how.quarter, how.as_of);
    render::write_form(how, shown);
    with.out << fmt::format("wrote {}: {} as of entry {}{}\n", how.file, how.quarter, shown.seen.as_of,
                            shown.report.basis.closed ? ", as filed" : "");
}

void add_rows(const command& sub, quarter_form& request) {
    sub.value("--rows", request.rows, "of a table on one sheet of a workbook: a longer one goes on on further sheets")
        .between(1, static_cast<int>(render::most_rows_a_sheet));
}

void add_report(const command& program, context& with) {
    auto sub =
        program.add("report", "fill in a page or workbook for a quarter or another period, or list and check forms");
    auto& request = program.keep<quarter_form>();
    sub.value("FORM", request.form, "the form's name, as `tarewell report forms` lists it");
    sub.value("QUARTER", request.quarter, one_of_periods);
    sub.value("OUT", request.file, "where to write it");
    sub.value("--as-of", request.as_of, "as the ledger stood after this entry");
    sub.flag("--names", request.with_names, "print growers' names beside their ids");
    sub.value("--site", request.site, "for a form about one site: its id or name");
    sub.value("--grower", request.grower, "for a form about one grower: the id or name");
    add_rows(sub, request);
    sub.value("--templates", request.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.flag("--json", request.json, "write the workbook's sheets, or all data that a page may use, as JSON");
    sub.flag("--csv", request.csv, "write a folder OUT: a CSV file for each sheet or list, and figures.csv");
    auto forms = sub.add("forms", "list all forms with a sentence each");
    auto& list = program.keep<std::string>();
    forms.value("--templates", list, "your folder of forms (or set TAREWELL_TEMPLATES)");
    forms.flag("--json", with.json, "JSON output");
    forms.does([&list, &with] { with.print(render::forms_on(render::form_shelf{with.templates_folder(list)})); });
    auto names = sub.add("names", "list every name that a form may use");
    names.flag("--json", with.json, "JSON output");
    names.does([&with] { with.print(render::names_a_form_may_use()); });
    auto check = sub.add("check", "check a form of your own: names, tags, parts");
    auto& check_what = program.keep<std::string>();
    check
        .value("FORM_FILE", check_what,
               "a page's .mustache (its parts are looked for beside it) or a workbook's .layout.toml")
        .required();
    check.does([&check_what, &with] { run_check(check_what, with); });
    add_fill(sub, with);
    sub.does([&request, &with] {
        if (request.file.empty()) throw missing_argument("FORM, QUARTER, OUT (or forms, names, check, fill)");
        write_form(request, with);
    });
}

} // namespace tarewell::cli
