#pragma once
#include "grant/account.hpp"
#include "grant/measures.hpp"
#include "support.hpp"

namespace tarewell::tests {

inline constexpr const char* last_day = "2026-12-31";

/// A season that holds an award and money alone, put together without a ledger.
class account_season {
  public:
    records::season of;

    account_season() {
        of.the_award.emplace();
        of.the_award->entry = next_++;
        of.the_award->begins = quantity::day_of("2026-01-01");
        of.the_award->ends = quantity::day_of(last_day);
    }
    account_season& percent(const char* indirect) {
        of.the_award->indirect_percent = quantity::decimal_of(indirect);
        return *this;
    }
    account_season& setting(const char* name, const char* value, const char* from = "") {
        of.settings.push_back({{next_, next_}, name, value, quantity::read_day(from)});
        ++next_;
        return *this;
    }
    account_season& spend(const char* category, std::int64_t cents, const char* subaward = "",
                          const char* day = "2026-04-01") {
        return add(category, cents, records::fund::grant, subaward, day);
    }
    /// The last cost's row says whether it is in the base.
    account_season& base(bool in) {
        of.costs.back().in_base = in;
        return *this;
    }
    account_season& amend(const char* indirect, const char* day) {
        records::amendment made;
        made.entry = made.order = next_++;
        made.date = quantity::day_of(day);
        made.indirect_percent = quantity::decimal_of(indirect);
        of.amendments.push_back(std::move(made));
        return *this;
    }
    account_season& match(const char* category, std::int64_t cents, const char* day = "2026-04-01") {
        return add(category, cents, records::fund::match, "", day);
    }

    [[nodiscard]] std::string direct() const { return text(over(grant::measures::direct, whole())); }
    [[nodiscard]] std::string match_given(std::optional<quantity::span_of_days> days = {}) const {
        return text(over(grant::measures::match_costs, days.value_or(whole())) +
                    over(grant::measures::in_kind, days.value_or(whole())));
    }
    /// The sum of a measure's rows dated in the days, in cents.
    [[nodiscard]] std::int64_t over(const reconcile::measure& measured, quantity::span_of_days days) const {
        std::int64_t sum = 0;
        measured.rows(of, {}, days.to, [&](const reconcile::measured& each) {
            if (days.holds(each.on)) sum += each.row.adds.value_or(0);
        });
        return sum;
    }

  private:
    records::entry_no next_ = 1;

    account_season& add(const char* category, std::int64_t cents, records::fund fund, const char* subaward,
                        const char* day) {
        records::cost cost;
        cost.entry = cost.order = next_++;
        cost.id = fmt::format("C{}", cost.entry);
        cost.category = category;
        cost.subaward = subaward;
        cost.date = quantity::day_of(day);
        cost.amount = quantity::money{cents};
        cost.fund = fund;
        of.costs.push_back(std::move(cost));
        return *this;
    }
    static quantity::span_of_days whole() { return {quantity::day::min(), quantity::day_of(last_day)}; }
    static std::string text(std::int64_t cents) { return quantity::text_of(quantity::money{cents}); }
};

} // namespace tarewell::tests
