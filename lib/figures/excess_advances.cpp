#include "figures/excess_advances.hpp"

#include "grant/account.hpp"
#include "grant/measures.hpp"
#include "quantity/dollars.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {

using quantity::dollars;

namespace {

using quantity::day;
using quantity::money;

/// The third business day after, holidays apart: the form asks for an explanation of what is on hand for longer
/// (SF-425, line 10c).
day third_business_day_after(day on) {
    for (int left = 3; left > 0;) {
        on += date::days{1};
        const auto weekday = date::weekday{on};
        if (weekday != date::Saturday && weekday != date::Sunday) --left;
    }
    return on;
}

/// A measure's cents through a day, summed once for all the days asked for.
class cents_by_day {
  public:
    cents_by_day(const reconcile::measure& of, const records::season& season, const reconcile::reckoning& reckoned) {
        of.rows(season, reckoned, day::max(), [&](const reconcile::measured& each) {
            if (each.row.adds) sums_[each.on] += *each.row.adds;
        });
        std::int64_t sum = 0;
        for (auto& [on, cents] : sums_)
            cents = sum += cents;
    }
    [[nodiscard]] money through(day last) const {
        const auto after = sums_.upper_bound(last);
        return after == sums_.begin() ? money{} : money{std::prev(after)->second};
    }

  private:
    std::map<day, std::int64_t> sums_;
};

} // namespace

std::vector<reconcile::flag> excess_advances(const records::season& season, const reconcile::reckoning& reckoned) {
    std::vector<reconcile::flag> flags;
    const cents_by_day receipts{grant::measures::payments, season, reckoned};
    const cents_by_day costs{grant::measures::paid, season, reckoned};
    const cents_by_day deducted{grant::measures::income_deducted, season, reckoned};
    for (const auto& each : season.payments) {
        if (each.kind != records::payment_kind::advance || each.amount.count() <= 0) continue;
        const auto last = third_business_day_after(each.date);
        const auto received = receipts.through(last);
        const auto paid = costs.through(last) + grant::indirect_through(season, last) - deducted.through(last);
        const auto left = std::min(received - paid, each.amount);
        if (left.count() > 0)
            flags.push_back(
                {"excess-advance",
                 each.id,
                 fmt::format("Of advance {}, {} is on hand on {}, past three business days' need: {} received by then, "
                             "{} paid (costs, indirect costs, less program income deducted).",
                             each.id, dollars(left), quantity::text_of(last), dollars(received), dollars(paid)),
                 each.date,
                 {{records::kind::payment, each.entry}}});
    }
    return flags;
}

} // namespace tarewell::figures
