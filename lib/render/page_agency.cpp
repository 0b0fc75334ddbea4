// What passes between the program and its agency.
#include "figures/stories.hpp"
#include "grant/financial.hpp"
#include "grant/reporting_calendar.hpp"
#include "render/page_parts.hpp"

namespace tarewell::render::parts {

json moves_part(const page_input& in) {
    const auto moves = grant::budget_moves_through(in.season, in.report.basis.days.to);
    return {{"moved", words_in(moves.moved)},
            {"total", words_in(moves.total)},
            {"share", percent_text(moves.share())},
            {"past_limit", moves.past_limit}};
}

json request_totals_part(const page_input& in) {
    json rows = json::array();
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

json narrative_part(const page_input& in) {
    json parts = json::array();
    for (const auto& each : figures::narrative_of(in.season, in.report.basis.quarter)) {
        json paragraphs = json::array();
        for (const auto& text : each.paragraphs)
            paragraphs.push_back({{"text", text}});
        json part{{"part", each.part}, {"heading", each.heading}};
        put_list(part, "paragraphs", std::move(paragraphs));
        parts.push_back(std::move(part));
    }
    return parts;
}

json calendar_part(const page_input& in) {
    json rows = json::array();
    for (const auto& each : grant::reporting_calendar(in.season))
        rows.push_back({{"report", each.name},
                        {"from", quantity::text_of(each.period.from)},
                        {"to", quantity::text_of(each.period.to)},
                        {"due", quantity::text_of(each.due)},
                        {"closed", each.filed != nullptr}});
    return rows;
}

} // namespace tarewell::render::parts
