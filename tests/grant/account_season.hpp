#pragma once
#include "grant/account.hpp"
#include "support.hpp"

namespace tarewell::tests {

inline constexpr const char* last_day = "2026-12-31";

/// A season that holds an award and money alone, put together without a ledger.
class account_season {
  public:
    ledger::season of;

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
        return add(category, cents, ledger::fund::grant, subaward, day);
    }
    account_season& match(const char* category, std::int64_t cents, const char* day = "2026-04-01") {
        return add(category, cents, ledger::fund::match, "", day);
    }

    [[nodiscard]] std::string direct() const { return text(grant::direct_on_grant(of, whole())); }
    [[nodiscard]] std::string match_given() const { return text(grant::match_given(of, whole())); }

  private:
    ledger::entry_no next_ = 1;

    account_season& add(const char* category, std::int64_t cents, ledger::fund fund, const char* subaward,
                        const char* day) {
        ledger::cost cost;
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
    static std::string text(const reconcile::tally& of_rows) { return quantity::text_of(quantity::money{of_rows.sum}); }
};

} // namespace tarewell::tests
