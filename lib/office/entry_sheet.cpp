#include "office/entry_sheet.hpp"

#include "desk/paper.hpp"
#include "desk/paper_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>

namespace tarewell::office {
namespace {

using records::entry_no;

struct sheet_kind {
    records::kind of;
    const char* title;
    const char* names; ///< the column that tells its rows apart
};
constexpr sheet_kind kinds[] = {{records::kind::receipt, "Check-in sheet", "bundle"},
                                {records::kind::haul, "Haul sheet", "bundle"},
                                {records::kind::ticket, "Scale log", "subject"}};

const sheet_kind& sheet_of(const records::kind_info& kind) {
    for (const auto& each : kinds)
        if (each.of == kind.which) return each;
    throw records::input_error(fmt::format("there is no printed sheet of {} to type in; a check-in sheet is of "
                                           "receipts, a haul sheet of hauls, a scale log of tickets",
                                           kind.file));
}

std::string value_of(const desk::typed_values& values, const std::string& name) {
    const auto found = values.find(name);
    return found == values.end() ? std::string{} : found->second;
}

template <class Number> std::optional<Number> number_in(const std::string& text) {
    Number number{};
    const auto* end = text.data() + text.size();
    const auto read = std::from_chars(text.data(), end, number);
    if (text.empty() || read.ec != std::errc{} || read.ptr != end || number < 0) return std::nullopt;
    return number;
}

/// A form of the page takes one bundle: a row of several becomes a row for each.
std::vector<desk::typed_values> row_for_each(const std::vector<desk::typed_values>& rows, const std::string& name) {
    std::vector<desk::typed_values> all;
    for (const auto& row : rows) {
        const auto ids = value_of(row, name);
        for (std::size_t from = 0; from < ids.size();) {
            const auto end = std::min(ids.find(' ', from), ids.size());
            auto& one = all.emplace_back(row);
            one[name] = ids.substr(from, end - from);
            from = end + 1;
        }
    }
    return all;
}

std::vector<desk::typed_values> rows_of(state& of, const entry_sheet& sheet) {
    const auto name = sheet.link(0);
    if (const auto* known = of.sheets.find(name)) return *known;
    desk::paper_wanted wanted;
    wanted.on = sheet.on;
    if (sheet.site != "all") wanted.site = sheet.site;
    const auto read = [&](const desk::season_view& seen) {
        return row_for_each(desk::rows_to_enter(seen, sheet.kind->which, wanted), sheet_of(*sheet.kind).names);
    };
    const auto& now = of.kept.season();
    auto rows = sheet.as_of == now.as_of ? read(now) : read(desk::season_view{of.kept.opened(), sheet.as_of});
    of.sheets.keep(name, rows);
    return rows;
}

/// Records of the kind that came after the sheet was made, by what its rows name.
std::map<std::string, std::string> done_of(const entry_sheet& sheet, const records::season& season) {
    std::map<std::string, std::string> done;
    const auto add = [&](const auto& records, auto named, auto key) {
        for (const auto& each : records)
            if (each.entry > sheet.as_of) done[named(each)] = key(each);
    };
    const auto bundle_id = [&](const auto& each) { return season.at(each.bundle).id.text(); };
    if (sheet.kind->which == records::kind::receipt)
        add(season.receipts, bundle_id, [](const auto& each) { return record_link("receipt", each.id); });
    if (sheet.kind->which == records::kind::haul)
        add(season.hauls, bundle_id,
            [&](const auto& each) { return record_link("haul", each.haul, season.at(each.bundle).id.text()); });
    if (sheet.kind->which == records::kind::ticket)
        add(
            season.tickets,
            [&](const auto& each) {
                return each.weighs == records::subject::bale ? season.at(each.bale).id.text() : std::string{};
            },
            [](const auto& each) { return record_link("ticket", each.id); });
    return done;
}

/// "B6, Ruth Ames, 1 of 3", or a bale's id and where it was pressed.
std::string told(const records::season& season, const std::string& id) {
    if (const auto bundle = season.find_bundle(id)) return fmt::format("{}: {}", id, desk::label_of(season, bundle));
    if (const auto bale = season.find_bale(id)) {
        const auto& of = season.at(bale);
        return fmt::format("{}: pressed {} at {}", id, quantity::text_of(of.date), season.at(of.site).name);
    }
    return id;
}

} // namespace

std::string entry_sheet::link(std::size_t to) const {
    return fmt::format("/enter?kind={}&sheet={}&on={}&as_of={}&row={}", kind->name, in_query(site),
                       quantity::text_of(on), as_of, to + 1);
}

std::optional<entry_sheet> sheet_asked(state& of, const form& named, const records::kind_info& kind) {
    const auto site = named.text("sheet");
    if (site.empty()) return std::nullopt;
    const auto& title = sheet_of(kind).title;
    const auto& now = of.kept.season();
    if (site != "all" && !now.season.find_site(site))
        throw records::input_error(fmt::format("no site '{}' is recorded; choose the sheet on Enter", site));
    if (site == "all" && kind.which != records::kind::ticket)
        throw records::input_error(fmt::format("a {} is of one site: choose the site", title));
    const auto on = quantity::read_day(named.text("on"));
    entry_sheet sheet{&kind, site, on.value_or(quantity::day_of(of.around.now().substr(0, 10))), now.as_of};
    if (named.has("as_of")) {
        const auto as_of = number_in<entry_no>(named.text("as_of"));
        if (!as_of || *as_of > now.as_of)
            throw records::input_error(fmt::format("'{}' is no entry of this ledger", named.text("as_of")));
        sheet.as_of = *as_of;
    }
    sheet.rows = rows_of(of, sheet);
    if (sheet.rows.empty())
        throw records::input_error(fmt::format("{} of {} has nothing on it: {}", title,
                                               site == "all" ? "all sites" : site,
                                               kind.which == records::kind::receipt ? "no bundle is expected there"
                                               : kind.which == records::kind::haul  ? "no bundle waits there"
                                                                                    : "no bale waits to be weighed"));
    const auto row = number_in<std::size_t>(named.text("row"));
    sheet.row = row && *row > 0 ? std::min(*row - 1, sheet.rows.size()) : next_not_done(of, sheet, 0);
    return sheet;
}

std::size_t next_not_done(state& of, const entry_sheet& sheet, std::size_t from) {
    const auto done = done_of(sheet, of.kept.season().season);
    const auto* names = sheet_of(*sheet.kind).names;
    const auto first = std::min(from, sheet.rows.size());
    for (std::size_t i = 0; i < sheet.rows.size(); ++i) {
        const auto row = (first + i) % sheet.rows.size();
        if (!done.contains(value_of(sheet.rows[row], names))) return row;
    }
    return sheet.rows.size();
}

std::size_t row_after(const entry_sheet& sheet, const desk::typed_values& recorded) {
    const auto* names = sheet_of(*sheet.kind).names;
    for (std::size_t i = 0; i < sheet.rows.size(); ++i)
        if (value_of(sheet.rows[i], names) == value_of(recorded, names)) return i + 1;
    return sheet.row;
}

value sheet_for_page(state& of, const entry_sheet& sheet) {
    const auto& season = of.kept.season().season;
    const auto done = done_of(sheet, season);
    const auto* names = sheet_of(*sheet.kind).names;
    auto rows = value::array();
    std::size_t count = 0;
    for (std::size_t i = 0; i < sheet.rows.size(); ++i) {
        const auto id = value_of(sheet.rows[i], names);
        const auto record = done.find(id);
        const bool is_done = record != done.end();
        count += is_done ? 1 : 0;
        rows.push_back({{"line", i + 1},
                        {"what", told(season, id)},
                        {"link", sheet.link(i)},
                        {"done", is_done ? value{record->second} : value{}},
                        {"here", i == sheet.row}});
    }
    const auto site = season.find_site(sheet.site);
    const auto on = next_not_done(of, sheet, sheet.row + 1);
    return {{"title", sheet_of(*sheet.kind).title},
            {"site", site ? fmt::format("{} ({})", season.at(site).name, sheet.site) : std::string{"all sites"}},
            {"sheet", sheet.site},
            {"on", quantity::text_of(sheet.on)},
            {"as_of", sheet.as_of},
            {"row", sheet.row + 1},
            {"rows", std::move(rows)},
            {"count", sheet.rows.size()},
            {"done_count", count},
            {"all_done", count == sheet.rows.size()},
            {"now", sheet.is_at_a_row() ? value{told(season, value_of(sheet.rows[sheet.row], names))} : value{}},
            {"back", sheet.row > 0 ? value{sheet.link(sheet.row - 1)} : value{}},
            {"skip", on < sheet.rows.size() && on != sheet.row ? value{sheet.link(on)} : value{}}};
}

value sheets_to_choose_from(state& of) {
    auto sheets = value::array();
    for (const auto& each : kinds)
        sheets.push_back({{"kind", records::info(each.of).name},
                          {"label", fmt::format("{}: {}", each.title, records::info(each.of).file)}});
    auto sites = value::array();
    for (const auto& each : of.kept.season().season.sites)
        sites.push_back({{"id", each.id.text()}, {"name", each.name}});
    value made = value::object();
    put_list(made, "sheets", std::move(sheets));
    put_list(made, "sites", std::move(sites));
    return made;
}

} // namespace tarewell::office
