#pragma once
#include "reconcile/flags.hpp"

#include <set>

namespace tarewell::reconcile {

struct settlement;

/// Collects the flags of one season; each look_at_ has its own source file's worth of rules.
class flag_maker {
  public:
    flag_maker(const records::season& season, const reckoning& reckoned) : s_{season}, r_{reckoned} {
        for (const auto& each : season.documents)
            attached_.insert(each.record);
    }

    void look_at_bundles();
    void look_at_bales();
    void look_at_tickets();
    void look_at_rejects();
    void look_at_money();
    void look_at_acceptances();
    void look_at_settlements();
    void look_at_dates();
    void look_at_growers();
    [[nodiscard]] std::vector<flag> flags() && { return std::move(flags_); }

  private:
    void raise(std::string_view code, std::string subject, day on, std::vector<row_ref> rows, std::string sentence);
    void look_at_registration(const records::registration& registration);
    void look_at_claims();
    void look_at_claim_by_count(const records::registration& registration);
    void look_at_receipts();
    void look_at_arrivals();
    void look_at_pressed();
    void look_at_hauls();
    void look_at_films();
    void look_at_bale(std::size_t index);
    void look_at_estimate(std::string subject, const std::string& thing, weight net, weight estimate, day on,
                          std::vector<row_ref> rows);
    void look_at_part_of_claim(std::size_t bale);
    void look_at_density(std::size_t bale);
    void look_at_ticket(const records::ticket& ticket);
    void look_at_capacity(const records::ticket& ticket);
    void look_at_same_paper();
    void look_at_spot_weights();
    void look_at_check(const records::ticket& ticket);
    void look_at_load(const records::ticket& ticket);
    void look_at_costs();
    void look_at_budget_lines();
    void look_at_sources();
    void look_at_twins();
    void look_at_hours();
    void look_at_rates();
    void look_at_requests();
    void look_at_income();
    void look_at_retainage();
    void look_at_order_of_money();
    void look_at_agency();
    void look_at_award_total();
    void look_at_claimed_costs();
    void look_at_income_as_match();
    void look_at_disallowed();
    struct outstanding {
        std::size_t credit = 0; ///< its place among the costs
        quantity::money amount;
    };
    [[nodiscard]] std::vector<outstanding> owed_to_agency() const;
    void look_at_costs_twice();
    void look_at_income_twice();
    void look_at_received(const settlement& of);
    void look_at_settled(const settlement& of);
    void look_at_money_dates();
    void look_at_day(records::kind which, records::entry_no entry, const std::string& id, day on);
    void look_at_entry_day(records::kind which, records::entry_no entry, const std::string& id, day on);
    [[nodiscard]] day latest_paper() const;
    [[nodiscard]] double number(std::string_view setting, day on) const;
    [[nodiscard]] std::string shown(weight value) const;
    [[nodiscard]] std::string named(records::bundle_place place) const;

    const records::season& s_;
    const reckoning& r_;
    std::set<std::string> attached_; ///< records with a source document kept beside the ledger
    std::vector<flag> flags_;
};

} // namespace tarewell::reconcile
