#include "render/form_writer.hpp"

#include "ledger/whole_file.hpp"
#include "render/csv_files.hpp"
#include "render/layout_check.hpp"
#include "render/layout_json.hpp"
#include "render/page_data.hpp"
#include "render/workbook_writer.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

workbook_sizes sizes_of(const form_request& how) {
    workbook_sizes sizes;
    if (how.rows > 0) sizes.rows_a_sheet = static_cast<std::size_t>(how.rows);
    return sizes;
}

void write_layout(const form_request& how, const form_text& form, const page_input& input) {
    const auto layout = need_layout(form);
    if (how.csv)
        write_csv_folder(how.file, csv_of(layout, input));
    else if (how.json)
        ledger::write_whole(how.file, layout_json(layout, input).json() + "\n");
    else
        write_workbook(how.file, layout, input, sizes_of(how));
}

void write_page(const form_request& how, const form_shelf& shelf, const form_text& form, const page_input& input) {
    if (how.csv) {
        const auto checked = shelf.check(form);
        if (!checked.faults.empty()) throw form_refused(checked.faults);
        write_csv_folder(how.file, csv_of(checked.used, input));
    } else {
        ledger::write_whole(how.file, how.json ? page_data(input, {}).json() + "\n" : shelf.fill(form, input));
    }
}

} // namespace

page_input input_of(const form_request& how, const desk::quarter_seen& shown) {
    const auto head = shown.as_of_head();
    const auto& season = shown.seen.season;
    page_input input{shown.report,     season,        shown.seen.reckoning, {ledger::hex(head.hash), head.at},
                     shown.adjusted(), how.with_names};
    input.filed = figures::filed_at(shown.seen.file, shown.report.basis.period, shown.seen.as_of);
    if (!how.site.empty() && !(input.site = season.find_site(how.site)))
        throw records::input_error(fmt::format("there is no site '{}'; `tarewell list sites` shows all", how.site));
    if (!how.grower.empty() && !(input.grower = season.find_grower(how.grower)))
        throw records::input_error(
            fmt::format("there is no grower '{}'; `tarewell list growers` shows all", how.grower));
    return input;
}

void write_form(const form_request& how, const desk::quarter_seen& shown) {
    const form_shelf shelf{how.templates};
    const auto chosen = shelf.choose(how.form, how.csv || how.file.ends_with(".xlsx"));
    const auto input = input_of(how, shown);
    try {
        if (chosen.workbook)
            write_layout(how, chosen.form, input);
        else
            write_page(how, shelf, chosen.form, input);
    } catch (const records::refused& refusal) {
        throw form_refused(refusal.lines());
    }
}

} // namespace tarewell::render
