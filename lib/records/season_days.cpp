#include "records/season.hpp"

#include <algorithm>

namespace tarewell::records {
namespace {

template <class Row> void widen(std::optional<quantity::span_of_days>& days, const std::vector<Row>& rows) {
    for (const auto& each : rows)
        days = days ? quantity::span_of_days{std::min(days->from, each.date), std::max(days->to, each.date)}
                    : quantity::span_of_days{each.date, each.date};
}

} // namespace

std::optional<quantity::span_of_days> season::days_of_rows() const {
    std::optional<quantity::span_of_days> days;
    widen(days, registrations);
    widen(days, receipts);
    widen(days, bales);
    widen(days, rejects);
    widen(days, shipments);
    widen(days, tickets);
    widen(days, acceptances);
    widen(days, costs);
    widen(days, gifts);
    widen(days, incomes);
    widen(days, payments);
    return days;
}

quantity::span_of_days season::days_of(const quantity::period& period) const {
    if (period.is != quantity::period::kind::whole_award)
        return quantity::days_of(period, the_award.value().calendar());
    const auto award = terms_on(day::max());
    const auto rows = days_of_rows();
    return {rows ? std::min(award.begins, rows->from) : award.begins, award.ends};
}

} // namespace tarewell::records
