// What is written down while working: weighings, hours, miles.
#include "desk/paper_rows.hpp"

#include <fmt/format.h>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

constexpr std::size_t usual_blanks = 4, usual_lines = 10;

value scales(const season_view& seen) {
    auto rows = value::array();
    seen.file.for_each(kind::scale, seen.as_of, [&](const ledger::stored_row& stored) {
        const auto& of = stored.values;
        rows.push_back({{"scale", of["scale"]},
                        {"location", of["location"]},
                        {"capacity", of["capacity"]},
                        {"division", of["division"]},
                        {"unit", of["unit"]},
                        {"certified_until", of["certified_until"]}});
    });
    return rows;
}

/// The site's fields where one is wanted; a sheet for any site has none.
value site_if_wanted(const season_view& seen, const paper_wanted& wanted) {
    if (wanted.site.empty()) return {{"site", nullptr}, {"site_name", nullptr}};
    return site_fields(seen, sites_wanted(seen, wanted).at(0));
}

/// A sheet of lines that people sign, named so that a record can name it as its paper.
paper lines_to_sign(const season_view& seen, const paper_wanted& wanted, const char* sheet, const char* title) {
    paper made{sheet, title, {}, {"document", "line", "date", "giver", "site", "quantity"}};
    auto page = site_if_wanted(seen, wanted);
    const auto document =
        fmt::format("{}{}{} {}", sheet, wanted.site.empty() ? "" : " ", wanted.site, quantity::text_of(wanted.on));
    page["document"] = document;
    auto rows = value::array();
    for (std::size_t i = 1; i <= wanted.blank_rows.value_or(usual_lines); ++i)
        rows.push_back({{"id", fmt::format("{} line {}", document, i)}, {"line", std::to_string(i)}});
    if (rows.empty()) throw records::input_error("--blank 0 leaves no line to write on");
    put_rows(page, "rows", std::move(rows));
    made.pages.push_back(std::move(page));
    return made;
}

} // namespace

paper scale_log(const season_view& seen, const paper_wanted& wanted) {
    const auto site = wanted.site.empty() ? site_place{} : seen.season.find_site(wanted.site);
    auto rows = value::array();
    for (const auto place : not_weighed(seen, site, wanted.on)) {
        const auto& bale = seen.season.at(place);
        rows.push_back({{"id", bale.id.text()},
                        {"bale", bale.id.text()},
                        {"pressed_on", bale.date},
                        {"site", seen.season.at(bale.site).id.text()}});
    }
    auto page = site_if_wanted(seen, wanted);
    put_rows(page, "rows", std::move(rows));
    put_rows(page, "blanks", lines_to_write_on(wanted.blank_rows.value_or(usual_blanks)));
    put_rows(page, "scales", scales(seen));
    page["usual_unit"] = seen.unit();
    return {"scale_log",
            "Scale log",
            {std::move(page)},
            {"bale", "pressed_on", "site", "ticket", "date", "scale", "gross", "tare", "net", "unit", "weigher"}};
}

paper hours_sheet(const season_view& seen, const paper_wanted& wanted) {
    return lines_to_sign(seen, wanted, "hours", "Volunteer hours");
}

paper mileage_sheet(const season_view& seen, const paper_wanted& wanted) {
    return lines_to_sign(seen, wanted, "mileage", "Volunteer mileage");
}

} // namespace tarewell::desk
