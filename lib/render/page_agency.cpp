// What passes between the program and its agency.
#include "figures/stories.hpp"
#include "grant/account.hpp"
#include "grant/financial.hpp"
#include "grant/reporting_calendar.hpp"
#include "render/page_parts.hpp"

namespace tarewell::render::parts {

value moves_part(const page_input& in) {
    const auto moves = grant::budget_moves_through(in.season, in.report.basis.days.to);
    return {{"moved", words_in(moves.moved)},
            {"total", words_in(moves.total)},
            {"share", percent_text(moves.share())},
            {"past_limit", moves.past_limit}};
}

value request_totals_part(const page_input& in) {
    value rows = value::array();
    for (const auto& each : grant::requests_through(in.season, in.report.basis.days.to))
        rows.push_back({{"request", each.request},
                        {"date", quantity::text_of(each.date)},
                        {"direct", words_in(each.direct)},
                        {"indirect", words_in(each.indirect)},
                        {"claimed", words_in(each.claimed())},
                        {"paid", words_in(each.paid)},
                        {"retained", words_in(each.retained)},
                        {"open", words_in(each.open())}});
    return rows;
}

value indirect_periods_part(const page_input& in) {
    const auto last = in.report.basis.days.to;
    const auto type = in.season.setting_on("indirect_rate_type", last);
    value rows = value::array();
    for (const auto& each : grant::indirect_periods(in.season, last))
        rows.push_back({{"type", type.empty() ? value{} : value{type}},
                        {"percent", quantity::shortest_text(each.percent)},
                        {"from", quantity::text_of(each.days.from)},
                        {"to", quantity::text_of(each.days.to)},
                        {"base", words_in(each.base)},
                        {"charged", words_in(each.charged)}});
    return rows;
}

value match_beyond_part(const page_input& in) {
    const auto* remaining = in.report.find("line_10k");
    if (remaining == nullptr) return {};
    const auto left = std::get<quantity::money>(remaining->value);
    return left.count() < 0 ? value{words_in(-left)} : value{};
}

value narrative_part(const page_input& in) {
    value parts = value::array();
    for (const auto& each : figures::narrative_of(in.season, in.report.basis.period)) {
        value paragraphs = value::array();
        for (const auto& text : each.paragraphs)
            paragraphs.push_back({{"text", text}});
        value part{{"part", each.part}, {"heading", each.heading}};
        put_list(part, "paragraphs", std::move(paragraphs));
        parts.push_back(std::move(part));
    }
    return parts;
}

value calendar_part(const page_input& in) {
    value rows = value::array();
    for (const auto& each : grant::reporting_calendar(in.season, in.report.basis.days.to))
        rows.push_back({{"report", each.name},
                        {"from", quantity::text_of(each.period.from)},
                        {"to", quantity::text_of(each.period.to)},
                        {"due", quantity::text_of(each.due)},
                        {"closed", each.filed != nullptr}});
    return rows;
}

} // namespace tarewell::render::parts
