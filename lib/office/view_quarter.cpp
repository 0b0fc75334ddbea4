#include "desk/periods.hpp"
#include "desk/quarter.hpp"
#include "figures/filed_closing.hpp"
#include "figures/flags.hpp"
#include "office/scratch.hpp"
#include "office/views.hpp"
#include "render/evidence_folder.hpp"
#include "render/form_writer.hpp"
#include "render/page_parts.hpp"
#include "render/zip_file.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::office {
namespace {

/// The period asked for, or the quarter that holds the day on the clock, within the award's days.
std::string period_asked(state& of, const call& from) {
    if (from.query.has("quarter")) return quantity::text_of(desk::period_named(from.query.text("quarter")));
    const auto& award = of.kept.season().award();
    const auto today = quantity::read_day(of.around.now().substr(0, 10)).value_or(award.ends);
    return quantity::text_of(award.calendar().holding(std::clamp(today, award.begins, award.ends)));
}

value figures_for_page(const figures::report& report) {
    auto figures = value::array();
    for (const auto& each : report.figures)
        figures.push_back({{"name", each.name},
                           {"meaning", each.meaning},
                           {"shown", render::parts::shown_text(each)},
                           {"reason", each.reason.empty() ? value{} : value{each.reason}},
                           {"rows", each.rows}});
    return figures;
}

/// What a coordinator looks at first.
value key_figures(const figures::report& report) {
    auto keys = value::array();
    for (const auto* name : {"received_bundles", "bales_weighed", "diverted_tons", "weight_over_estimate",
                             "growers_served", "cost_per_ton"})
        if (const auto* figure = report.find(name))
            keys.push_back({{"meaning", figure->meaning}, {"shown", render::parts::shown_text(*figure)}});
    return keys;
}

/// Flags of the quarter by code: those that block a closing ask for a reason each.
value flags_by_code(const std::vector<reconcile::flag>& flags, reconcile::flag_level level) {
    auto codes = value::array();
    for (const auto& code : reconcile::flag_codes()) {
        if (code.level != level) continue;
        auto sentences = value::array();
        for (const auto& each : flags)
            if (each.code == code.code) sentences.push_back(each.sentence);
        if (sentences.empty()) continue;
        const auto count = sentences.list()->size();
        codes.push_back(
            {{"code", code.code}, {"meaning", code.meaning}, {"count", count}, {"sentences", std::move(sentences)}});
    }
    return codes;
}

value forms_for_page() {
    auto forms = value::array();
    for (const auto& each : render::form_shelf{}.all())
        forms.push_back({{"form", each.name}, {"sentence", each.sentence}, {"workbook", each.workbook}});
    return forms;
}

value closing_of(const desk::quarter_seen& shown) {
    const auto filed = figures::filed_at(shown.seen.file, shown.report.basis.period, shown.seen.as_of);
    if (!filed) return nullptr;
    auto remarks = value::array();
    for (const auto& each : figures::remarks_of(*filed))
        remarks.push_back({{"what", each.what}, {"text", each.text}});
    value data{{"entry", filed->entry},
               {"prepared_by", filed->signatures.prepared_by},
               {"reviewed_by", filed->signatures.reviewed_by},
               {"certified_by", filed->signatures.certified_by}};
    put_list(data, "remarks", std::move(remarks));
    const auto moved = desk::restatements_of(desk::looked_at{ledger::ledger_file::open(shown.seen.file.path())},
                                             quantity::text_of(shown.report.basis.period), {});
    data["moved"] = moved.found;
    data["moved_text"] = moved.text();
    return data;
}

/// "Quarter 2026-Q3", "Year 2026", "Whole award (final)", "Period 2026-04..2026-09"
std::string title_of(const quantity::period& of) {
    if (of.is == quantity::period::kind::whole_award) return "Whole award (final)";
    std::string word{of.word()};
    word[0] = static_cast<char>(word[0] - 'a' + 'A');
    return fmt::format("{} {}", word, quantity::text_of(of));
}

value link_to(const quantity::period& to, const quantity::period& shown, bool closed) {
    return {{"name", quantity::text_of(to)}, {"title", title_of(to)}, {"closed", closed}, {"here", to == shown}};
}

/// The award's quarters, its years, and the whole of it.
value periods_of(const records::season& of, const quantity::period& shown) {
    auto links = value::array();
    const auto add = [&](const quantity::period& each) {
        links.push_back(link_to(each, shown, of.closing_of(each) != nullptr));
    };
    std::vector<int> years;
    for (const auto quarter : figures::quarters_of(of, of.days_of(quantity::period::whole_award()))) {
        add(quarter);
        if (years.empty() || years.back() != quarter.year) years.push_back(quarter.year);
    }
    for (const auto year : years)
        add(quantity::period::year(year));
    add(quantity::period::whole_award());
    return links;
}

void put_neighbours(value& to, const quantity::period& of) {
    to["before"] = to["after"] = nullptr;
    if (of.is_quarter()) {
        to["before"] = quantity::text_of(quantity::previous(of.first));
        to["after"] = quantity::text_of(quantity::next(of.last));
    } else if (of.is == quantity::period::kind::year) {
        to["before"] = quantity::text_of(quantity::period::year(of.first.year - 1));
        to["after"] = quantity::text_of(quantity::period::year(of.first.year + 1));
    }
}

/// Of a year or the award: the quarters in it that nobody closed, "2026-Q2, 2026-Q3 are".
value open_quarters(const desk::quarter_seen& shown) {
    const auto& basis = shown.report.basis;
    if (basis.period.is_quarter() || basis.period.is_span()) return nullptr;
    std::vector<std::string> open;
    for (const auto quarter : figures::quarters_of(shown.seen.season, basis.days))
        if (shown.seen.season.closing_of(quarter) == nullptr) open.push_back(quantity::text_of(quarter));
    if (open.empty()) return nullptr;
    return fmt::format("{} {}", fmt::join(open, ", "), open.size() == 1 ? "is" : "are");
}

/// What a year or a span is told by beside its figures.
value across(const desk::quarter_seen& shown) {
    if (shown.report.basis.period.is_quarter()) return nullptr;
    return {{"quarters", desk::side_by_side(shown).text()}, {"pace", desk::pace_of(shown).text()}};
}

bool is_over(const state& of, const desk::quarter_seen& shown) {
    const auto today = quantity::read_day(of.around.now().substr(0, 10));
    return today && *today > shown.report.basis.days.to;
}

value quarter_data(state& of, const std::string& name) {
    const auto& shown = of.kept.quarter(name);
    const auto& basis = shown.report.basis;
    const auto flags = reconcile::flags_in(figures::flags_of(shown.seen.season, shown.seen.reckoning), basis.days);
    value data{{"quarter", name},
               {"from", render::parts::words_of(basis.days.from)},
               {"to", render::parts::words_of(basis.days.to)},
               {"as_of", basis.as_of},
               {"the_period", basis.period.is == quantity::period::kind::whole_award
                                  ? std::string{"whole award"}
                                  : std::string{basis.period.word()}},
               {"periods", periods_of(of.kept.season().season, basis.period)},
               {"is_named", basis.period.is != quantity::period::kind::whole_award},
               {"closed", closing_of(shown)},
               {"span", basis.period.is_span()},
               {"early", !is_over(of, shown)},
               {"open", open_quarters(shown)},
               {"across", across(shown)},
               {"keys", key_figures(shown.report)},
               {"figures", figures_for_page(shown.report)},
               {"forms", forms_for_page()}};
    put_neighbours(data, basis.period);
    put_list(data, "blocks", flags_by_code(flags, reconcile::flag_level::blocks));
    put_list(data, "questions", flags_by_code(flags, reconcile::flag_level::question));
    put_list(data, "notes", flags_by_code(flags, reconcile::flag_level::note));
    const auto adjusted = shown.adjusted();
    data["adjusted"] = adjusted.empty() ? value{} : value{adjusted.size()};
    return data;
}

} // namespace

response show_quarter(state& of, const call& from) {
    const auto name = period_asked(of, from);
    return page(of, "quarter", title_of(desk::period_named(name)), quarter_data(of, name));
}

response show_flags(state& of, const call& from) {
    const auto code = from.query.text("code");
    const auto& seen = of.kept.season();
    auto lines = value::array();
    for (const auto& each : of.kept.flags()) {
        if (!code.empty() && each.code != code) continue;
        auto rows = value::array();
        for (const auto& row : each.rows)
            seen.file.with_entry(row.which, row.entry, [&](const ledger::stored_row& stored) {
                const auto& kind = records::info(row.which);
                if (kind.internal) return;
                rows.push_back({{"name", fmt::format("{} {}", kind.name, records::key_for_people(stored.values))},
                                {"link", record_link(kind.name, stored.values[kind.key[0]],
                                                     kind.key_columns == 2 ? stored.values[kind.key[1]] : "")}});
            });
        lines.push_back({{"on", quantity::text_of(each.on)}, {"sentence", each.sentence}, {"rows", std::move(rows)}});
    }
    value data = value::object();
    for (const auto& each : reconcile::flag_codes())
        if (each.code == code) data["meaning"] = each.meaning;
    put_list(data, "flags", std::move(lines));
    return page(of, "flags", code.empty() ? "Flags" : fmt::format("Flag: {}", code), std::move(data));
}

response give_form(state& of, const call& from) {
    const auto form = from.query.text("form");
    const auto quarter = quantity::text_of(desk::period_named(from.query.text("quarter")));
    const auto chosen = render::form_shelf{}.choose(form, from.query.text("as") == "xlsx");
    const scratch_folder folder;
    const bool json = from.query.text("as") == "json";
    const char* ending = json ? "json" : chosen.workbook ? "xlsx" : "html";
    render::form_request how{form, folder.path_for(fmt::format("form.{}", ending))};
    how.json = json;
    how.with_names = from.query.has("names");
    how.site = from.query.text("site");
    how.grower = from.query.text("grower");
    render::write_form(how, of.kept.quarter(quarter));
    const auto about = how.site.empty() ? how.grower : how.site;
    return download(fmt::format("{}-{}{}{}.{}", quarter, form == "quarter_summary" ? "workbook" : form,
                                about.empty() ? "" : "-", about, ending),
                    json              ? "application/json"
                    : chosen.workbook ? "application/vnd.openxmlformats-officedocument.spreadsheetml.sheet"
                                      : "text/html; charset=utf-8",
                    bytes_of(how.file));
}

response give_evidence(state& of, const call& from) {
    const auto quarter = quantity::text_of(desk::period_named(from.query.text("quarter")));
    const scratch_folder scratch;
    const auto name = quarter + "-evidence";
    (void)render::write_evidence_folder(of.kept.opened(), quarter, scratch.path_for(name), {});
    const auto packed = scratch.path_for(name + ".zip");
    render::write_zip_of(scratch.path_for(name), packed);
    return download(name + ".zip", "application/zip", bytes_of(packed));
}

} // namespace tarewell::office
