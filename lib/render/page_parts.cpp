#include "render/page_parts.hpp"

#include "figures/breakdowns.hpp"
#include "figures/flags.hpp"
#include "figures/period_note.hpp"
#include "figures/second_sums.hpp"
#include "render/method_notes.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render::parts {
namespace {

value line_part(const figures::money_line& of) {
    return {{"category", of.category},
            {"in_budget", of.in_budget},
            {"grant_budget", words_in(of.grant_budget)},
            {"grant_in_quarter", words_in(of.grant_in_quarter)},
            {"grant_spent", words_in(of.grant_spent)},
            {"grant_left", words_in(of.grant_left())},
            {"match_budget", words_in(of.match_budget)},
            {"match_in_quarter", words_in(of.match_in_quarter)},
            {"match_given", words_in(of.match_given)}};
}

value cell_part(const figures::cell& of) {
    struct writer {
        value operator()(std::monostate) const { return nullptr; }
        value operator()(const std::string& text) const { return text_or_none(text); }
        value operator()(quantity::day day) const { return quantity::text_of(day); }
        value operator()(std::int64_t count) const { return count_text(count); }
        value operator()(quantity::weight value) const { return words_in(value); }
        value operator()(quantity::money value) const { return words_in(value); }
        value operator()(figures::real value) const { return fmt::format("{:.4f}", value); }
    };
    return std::visit(writer{}, of);
}

} // namespace

named_texts quarter_texts(const page_input& in) {
    const auto& on = in.report.basis;
    return {{"name", quantity::text_of(on.period)},        {"title", quantity::title_of(on.period)},
            {"note", figures::period_note(in.season, on)},
            {"word", std::string{on.period.word()}},
            {"from", quantity::text_of(on.days.from)},     {"to", quantity::text_of(on.days.to)},
            {"from_words", words_of(on.days.from)},        {"to_words", words_of(on.days.to)},
            {"state", on.closed ? "closed" : "not closed"}};
}

named_texts award_texts(const page_input& in) {
    const auto award = in.season.terms_on(in.report.basis.days.to);
    const char* base = award.base == records::match_base::total   ? "total"
                       : award.base == records::match_base::grant ? "grant"
                                                                  : "";
    const char* when = award.counted_when == records::counting::weighed   ? "weighed"
                       : award.counted_when == records::counting::shipped ? "shipped"
                                                                          : "accepted";
    const char* by = award.counted_when == records::counting::weighed   ? "weighed by the scale"
                     : award.counted_when == records::counting::shipped ? "weighed by the scale and shipped"
                                                                        : "accepted by processors";
    const auto percent = [](const auto& of) { return of ? quantity::shortest_text(*of) : std::string{}; };
    return {{"id", award.id},
            {"agency", award.agency},
            {"program", award.program},
            {"region", award.region},
            {"begins", quantity::text_of(award.begins)},
            {"ends", quantity::text_of(award.ends)},
            {"goal_tons", quantity::shortest_text(award.goal_tons)},
            {"unit", std::string{quantity::name_of(award.unit)}},
            {"match_percent", percent(award.match_percent)},
            {"match_base", base},
            {"indirect_percent", percent(award.indirect_percent)},
            {"counted_when", when},
            {"counted_by", by}};
}

named_texts mark_texts(const page_input& in) {
    return {
        {"as_of", fmt::format("{}", in.report.basis.as_of)}, {"at", in.marks.as_of_at}, {"hash", in.marks.head_hash}};
}

named_texts signed_texts(const page_input& in) {
    const auto filed = in.filed.value_or(figures::filed_closing{});
    std::string remarks;
    if (in.filed)
        for (const auto& each : figures::remarks_of(filed))
            remarks += fmt::format("{}{}: {}", remarks.empty() ? "" : "; ", each.what, each.text);
    return {{"prepared_by", filed.signatures.prepared_by},
            {"reviewed_by", filed.signatures.reviewed_by},
            {"certified_by", filed.signatures.certified_by},
            {"remarks", remarks}};
}

named_texts figure_texts(const figures::figure& of) {
    return {{"name", of.name},
            {"value", words_in(of)},
            {"shown", shown_text(of)},
            {"exact", figures::text_of(of.value)},
            {"unit", of.unit},
            {"meaning", of.meaning},
            {"evidence", count_text(static_cast<std::int64_t>(of.rows))},
            {"reason", of.reason}};
}

value json_of(const named_texts& texts) {
    value made = value::object();
    for (const auto& [name, text] : texts)
        made[name] = text_or_none(text);
    return made;
}

value quarter_part(const page_input& in) {
    auto made = json_of(quarter_texts(in));
    made["is_quarter"] = in.report.basis.period.is_quarter();
    made["is_widened"] = !figures::period_note(in.season, in.report.basis).empty();
    made["closed"] = in.report.basis.closed;
    return made;
}

value months_part(const page_input& in) {
    const auto goal = quantity::shortest_text(in.season.terms_on(in.report.basis.days.to).goal_tons);
    value months = value::array();
    for (const auto& each : figures::by_month(in.season, in.reckoning, in.report.basis))
        months.push_back({{"month", quantity::text_of(each.days.from).substr(0, 7)},
                          {"diverted_tons", tons_text(each.diverted_tons)},
                          {"diverted_tons_to_date", tons_text(each.diverted_tons_to_date)},
                          {"goal_tons", goal},
                          {"net", words_in(each.net)},
                          {"estimate", words_in(each.estimate)}});
    return months;
}

value causes_part(const page_input& in) {
    value causes = value::array();
    for (const auto& each : figures::reject_causes(in.season, in.reckoning, in.report.basis.days))
        causes.push_back(
            {{"reason", each.reason}, {"bundles", count_text(each.bundles)}, {"residue", words_in(each.residue)}});
    return causes;
}

void put_money(value& to, const page_input& in) {
    const auto money = figures::money_by_category(in.season, in.report.basis);
    value lines = value::array();
    for (const auto& each : money.lines)
        lines.push_back(line_part(each));
    put_list(to, "money", std::move(lines));
    to["money_total"] = line_part(money.total);
    if (money.unclassed.match_given.count() != 0) to["money_unclassed"] = line_part(money.unclassed);
}

value closing_remarks_part(const page_input& in) {
    value remarks = value::array();
    if (in.filed)
        for (const auto& each : figures::remarks_of(*in.filed))
            remarks.push_back({{"what", each.what}, {"text", each.text}});
    return remarks;
}

namespace {

/// Why a quarter was closed over a flag; empty where it was not.
std::string accepted_reason(const page_input& in, std::string_view code) {
    if (in.filed)
        for (const auto& [flag, reason] : in.filed->accepted)
            if (flag == code) return reason;
    return {};
}

} // namespace

value flag_groups_part(const page_input& in) {
    const auto flags = reconcile::flags_in(figures::flags_of(in.season, in.reckoning), in.report.basis.days);
    value groups = value::array();
    for (const auto& code : reconcile::flag_codes()) {
        value found = value::array();
        for (const auto& each : flags) {
            if (each.code != code.code) continue;
            std::string rows;
            for (const auto& row : each.rows)
                rows += fmt::format("{}{} {}", rows.empty() ? "" : ", ", records::info(row.which).name, row.entry);
            found.push_back(
                {{"on", quantity::text_of(each.on)}, {"sentence", each.sentence}, {"rows", text_or_none(rows)}});
        }
        if (found.empty()) continue;
        value group{{"code", std::string{code.code}},
                    {"meaning", std::string{code.meaning}},
                    {"stops", code.level == reconcile::flag_level::blocks},
                    {"level", std::string{name_of(code.level)}},
                    {"accepted", text_or_none(accepted_reason(in, code.code))},
                    {"count", count_text(static_cast<std::int64_t>(found.list()->size()))}};
        put_list(group, "found", std::move(found));
        groups.push_back(std::move(group));
    }
    return groups;
}

value method_part(const page_input& in) {
    value notes = value::array();
    for (const auto& [word, note] : method_notes(in.season.terms_on(in.report.basis.days.to)))
        notes.push_back({{"word", word}, {"note", said_of(in.report.basis.period, note)}});
    return notes;
}

value rows_of(const figures::table& of, const page_input& in) {
    const bool names_growers = of.name == "By grower";
    const auto dated =
        std::find_if(of.columns.begin(), of.columns.end(), [](const auto& each) { return each.name == "date"; });
    value rows = value::array();
    for (const auto& row : of.rows) {
        value made = value::object();
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            made[of.columns[c].name] = cell_part(row[c]);
        // Every name stands in every row: a form is checked against the names with growers' names.
        if (names_growers && !in.with_names) made["name"] = nullptr;
        const auto* on = dated == of.columns.end()
                             ? nullptr
                             : std::get_if<quantity::day>(&row[static_cast<std::size_t>(dated - of.columns.begin())]);
        made["in_quarter"] = on == nullptr || in.report.basis.days.holds(*on);
        rows.push_back(std::move(made));
    }
    return rows;
}

void put_tie_out(value& to, const page_input& in, const std::vector<figures::table>& tables) {
    value lines = value::array();
    bool all = true;
    for (const auto& each : figures::second_sums(in.report, tables, in.season, in.reckoning)) {
        const auto* figure = in.report.find(each.name);
        const auto as_shown = [&](const figures::value& value) {
            const auto text = figures::shown(value, figure->unit);
            return text.empty() ? std::string{"not defined"} : text;
        };
        const bool ties = each.result == figures::tie::ties;
        const bool is_summed = each.result != figures::tie::no_second;
        all = all && each.result != figures::tie::differs;
        lines.push_back({{"name", each.name},
                         {"value", as_shown(each.filed)},
                         {"unit", figure->unit},
                         {"evidence", count_text(static_cast<std::int64_t>(figure->rows))},
                         {"second", is_summed ? as_shown(each.second) : ""},
                         {"difference", std::holds_alternative<std::monostate>(each.difference) && ties ? "0"
                                        : is_summed ? as_shown(each.difference)
                                                    : ""},
                         {"ties", ties},
                         {"result", figures::name_of(each.result)},
                         {"way", each.way}});
    }
    put_list(to, "tie_out", std::move(lines));
    to["tie_out_ties"] = all;
}

} // namespace tarewell::render::parts
