#pragma once
#include "quantity/money.hpp"
#include "reconcile/measure.hpp"

#include <functional>
#include <map>
#include <string>
#include <vector>

namespace tarewell::grant {

using quantity::day;
using quantity::money;

/// True for a direct grant cost in modified total direct costs (2 CFR 200.1): no equipment, no construction unless its
/// row says in, and nothing whose row says out (rental, participant support, patient care, tuition).
bool is_in_base(const records::cost& cost);

/// A base added up cost by cost. A subaward counts up to the limit in force on the day of its first cost (a setting).
class base_sum {
  public:
    explicit base_sum(const records::season& of) : of_{of} {}
    void add(money amount, day on, const std::string& subaward);
    /// Less what passes the limit in each subaward; below 0 where credits pass the costs.
    [[nodiscard]] money capped() const;

  private:
    struct subaward_sum {
        money direct;
        day first;
    };
    const records::season& of_;
    money sum_;
    std::map<std::string, subaward_sum> subawards_;
};

/// The limit in a subaward whose first cost in the base is of that day.
money subaward_limit_on(const records::season& of, day first);

/// The base of indirect costs through `last` (modified total direct costs), never below 0.
money indirect_base_through(const records::season& of, day last);

/// Indirect costs through `last`: the award's percent of its base, rounded half up to the cent once and never below 0.
/// An amended percent holds for what is added to the base from its date on; a credit lowers the base of its own date.
/// Without a percent it is 0. The base may be summed elsewhere, without a lower end.
money indirect_through(const records::season& of, day last);
money indirect_through(const records::season& of, day last, const std::function<money(day last)>& base_through);

/// A period of one indirect percent: what it added to the base, and what was charged for it. What is charged in all
/// periods sums to indirect_through (line 11 of SF-425).
struct indirect_period {
    quantity::span_of_days days;
    quantity::decimal percent;
    money base, charged;
};
/// From the award's first day; none without a percent.
std::vector<indirect_period> indirect_periods(const records::season& of, day last);

/// The rows behind them: the base's costs, the award and its amendments; none without a percent.
void see_indirect_rows(const records::season& of, day last,
                       const std::function<void(const reconcile::evidence_row&)>& see);

/// True once the award's indirect percent was amended: each percent has its own part of the base.
bool percent_was_amended(const records::season& of, day last);

/// The match that goes with `on_grant`, direct and indirect: with p percent of the total G p/(100 - p),
/// of the grant G p/100, rounded half up to the cent; 0 where the award requires none.
money match_required(const records::award& award, money on_grant);
bool requires_match(const records::award& award);

} // namespace tarewell::grant
