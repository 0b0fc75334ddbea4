#include "figures/figure.hpp"

#include "records/errors.hpp"

#include "figures/sums.hpp"
#include "grant/account.hpp"
#include "grant/financial.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::figures {
namespace {

using namespace ledger; // NOLINT
using reconcile::evidence_row;

/// Each row once, whatever it adds in all.
std::vector<evidence_row> merged(std::vector<evidence_row> rows) {
    std::sort(rows.begin(), rows.end(), [](const evidence_row& a, const evidence_row& b) { return a.entry < b.entry; });
    std::vector<evidence_row> once;
    for (const auto& row : rows) {
        if (once.empty() || once.back().entry != row.entry) {
            once.push_back(row);
            continue;
        }
        auto& adds = once.back().adds;
        if (row.adds) adds = adds.value_or(0) + *row.adds;
    }
    return once;
}

/// The rows of several tallies, which only decide and add nothing.
std::vector<evidence_row> behind(std::initializer_list<const tally*> tallies) {
    std::vector<evidence_row> rows;
    for (const auto* each : tallies)
        for (const auto& row : each->rows)
            rows.push_back({row.which, row.entry, std::nullopt});
    return merged(std::move(rows));
}

class maker {
  public:
    maker(const season& of, const reconcile::reckoning& reckoned, quantity::quarter quarter, entry_no as_of,
          bool closed)
        : s_{of}, sums_{of, reckoned} {
        const auto days = of.the_award->calendar().days_of(quarter);
        report_.basis = {quarter, days, as_of, closed};
        terms_ = of.terms_on(days.to);
        to_date_ = {day::min(), days.to};
        before_ = {day::min(), days.from - date::days{1}};
    }

    report run() && {
        bundles();
        bales();
        tonnage();
        money();
        costs_per_ton();
        outlook();
        agency_money();
        put_in_order();
        return std::move(report_);
    }

  private:
    const season& s_;
    sums sums_;
    report report_;
    span_of_days to_date_, before_;
    ledger::award terms_; ///< in force on the quarter's last day
    tally diverted_, diverted_to_date_;

    [[nodiscard]] span_of_days in() const { return report_.basis.days; }
    [[nodiscard]] std::string unit() const { return std::string{quantity::name_of(s_.the_award->unit)}; }

    void put(std::string_view name, value what, std::string unit, std::vector<evidence_row> rows,
             std::string reason = {}) {
        report_.figures.push_back({std::string{name}, what, std::move(unit), {}, std::move(reason), std::move(rows)});
    }
    void count(std::string_view name, const tally& of, std::string unit) {
        put(name, of.sum, std::move(unit), merged(of.rows));
    }
    void heft(std::string_view name, const tally& of) { put(name, weight{of.sum}, unit(), merged(of.rows)); }
    void dollars(std::string_view name, const tally& of) { put(name, quantity::money{of.sum}, "$", merged(of.rows)); }
    void tons(std::string_view name, const tally& of) {
        put(name, quantity::short_tons(weight{of.sum}, s_.the_award->unit), "tons", merged(of.rows));
    }
    void ratio(std::string_view name, const tally& top, const tally& bottom, const char* reason) {
        if (bottom.sum == 0)
            put(name, {}, "ratio", behind({&top, &bottom}), reason);
        else
            put(name, exact_ratio(top.sum, bottom.sum), "ratio", behind({&top, &bottom}));
    }
    static real exact_ratio(quantity::wide top, quantity::wide bottom) {
        return bottom > 0 ? quantity::nearest_double(top, bottom) : quantity::nearest_double(-top, -bottom);
    }
    void pair(const std::string& name, const sums::bundles& of) {
        count(name + "_bundles", of.count, "bundles");
        heft(name + "_estimate", of.estimate);
    }

    void bundles() {
        const auto received = sums_.received(in());
        const auto rejected = sums_.rejected(in());
        pair("registered", sums_.registered(in()));
        pair("received", received);
        pair("rejected", rejected);
        pair("on_hand", sums_.on_hand(in().to));
        tally handled = rejected.count;
        handled += received.count;
        ratio("rejected_share", rejected.count, handled, "no bundle was received or rejected in the quarter");
        count("growers_served", sums_.growers_served(in()), "growers");
        const auto fresh = sums_.growers_new(in());
        count("growers_new", fresh, "growers");
        auto returning = sums_.growers_served(in());
        returning -= fresh;
        count("growers_returning", returning, "growers");
        count("growers_to_date", sums_.growers_served(to_date_), "growers");
        count("sites_active", sums_.sites_active(in()), "sites");
    }

    void bales() {
        const auto net = sums_.net_weighed(in());
        const auto claimed = sums_.estimate_weighed(in());
        const auto residue = sums_.residue(in());
        count("bales_made", sums_.bales_made(in()), "bales");
        count("baled_bundles", sums_.baled_bundles(in()), "bundles");
        count("bales_weighed", sums_.bales_weighed(in()), "bales");
        count("bales_on_hand", sums_.bales_on_hand(in().to), "bales");
        heft("bale_net_weight", net);
        heft("bale_estimate", claimed);
        heft("residue_weight", residue);
        ratio("weight_over_estimate", net, claimed, "no estimate stands behind the bales weighed in the quarter");
        ratio("residue_share", residue, net, "no bale was weighed in the quarter");
    }

    void look_at_amendments(tally& rows) const {
        for (const auto& each : s_.amendments)
            if (each.date <= in().to) rows.look_at(kind::amendment, each.entry);
    }

    void tonnage() {
        diverted_ = sums_.diverted(in());
        diverted_to_date_ = sums_.diverted(to_date_);
        heft("diverted_weight", diverted_);
        tons("diverted_tons", diverted_);
        tons("diverted_tons_to_date", diverted_to_date_);
        tons("shipped_tons", sums_.shipped(in()));
        tons("accepted_tons", sums_.accepted(in()));
        const auto goal = terms_.goal_tons;
        auto rows = diverted_to_date_;
        rows.look_at(kind::award, s_.the_award->entry);
        look_at_amendments(rows);
        const auto exact = quantity::short_tons_exact(weight{diverted_to_date_.sum}, s_.the_award->unit);
        if (goal.mantissa == 0)
            put("goal_share", {}, "ratio", behind({&rows}), "the award's goal is 0 tons");
        else
            put("goal_share",
                quantity::nearest_double(exact.numerator * quantity::power_of_ten(goal.scale),
                                         exact.denominator * goal.mantissa),
                "ratio", behind({&rows}));
    }

    void money() {
        const auto spent = grant::direct_on_grant(s_, in());
        const auto spent_to_date = grant::direct_on_grant(s_, to_date_);
        const auto indirect_to_date = grant::indirect_through(s_, in().to);
        auto indirect = indirect_to_date;
        indirect.sum -= grant::indirect_through(s_, before_.to).sum;
        const auto match = grant::match_given(s_, in());
        dollars("grant_spent", spent);
        dollars("grant_spent_to_date", spent_to_date);
        dollars("indirect_claimed", indirect);
        dollars("indirect_to_date", indirect_to_date);
        dollars("match_given", match);
        dollars("match_to_date", grant::match_given(s_, to_date_));
        auto left = grant::budgeted_grant(s_, in().to);
        left -= spent_to_date;
        left -= indirect_to_date;
        dollars("grant_left", left);
        auto on_grant = spent_to_date;
        on_grant += indirect_to_date;
        tally required;
        for (const auto& row : on_grant.rows)
            required.look_at(row.which, row.entry);
        required.look_at(kind::award, s_.the_award->entry);
        look_at_amendments(required);
        required.sum = grant::match_required(terms_, quantity::money{on_grant.sum}).count();
        dollars("match_required", required);
    }

    void cost_per_ton(std::string_view name, const tally& cost, const tally& diverted) {
        if (diverted.sum <= 0) {
            put(name, {}, "$/ton", behind({&cost, &diverted}), "no tons were diverted");
            return;
        }
        const auto tons = quantity::short_tons_exact(weight{diverted.sum}, s_.the_award->unit);
        put(name, quantity::nearest_double(quantity::wide{cost.sum} * tons.denominator, 100 * tons.numerator), "$/ton",
            behind({&cost, &diverted}));
    }

    void costs_per_ton() {
        const auto cost_of = [&](span_of_days days, bool quarter_only, bool with_match) {
            tally cost = grant::direct_on_grant(s_, days);
            tally indirect = grant::indirect_through(s_, days.to);
            if (quarter_only) indirect.sum -= grant::indirect_through(s_, before_.to).sum;
            cost += indirect;
            if (with_match) cost += grant::match_given(s_, days);
            return cost;
        };
        cost_per_ton("cost_per_ton", cost_of(in(), true, true), diverted_);
        cost_per_ton("grant_cost_per_ton", cost_of(in(), true, false), diverted_);
        cost_per_ton("cost_per_ton_to_date", cost_of(to_date_, false, true), diverted_to_date_);
        cost_per_ton("grant_cost_per_ton_to_date", cost_of(to_date_, false, false), diverted_to_date_);
    }

    /// What is on hand at the program's own weight over estimate, and what a landfill would have cost.
    void outlook() {
        const auto net = sums_.net_weighed(to_date_);
        const auto claimed = sums_.estimate_weighed(to_date_);
        const auto on_hand = sums_.on_hand(in().to).estimate;
        if (claimed.sum == 0) {
            put("projected_tons", {}, "tons", behind({&diverted_to_date_, &on_hand, &net}),
                "no estimate stands behind the bales weighed to date");
        } else {
            const auto ton = quantity::short_tons_exact(weight{1}, s_.the_award->unit);
            const auto waiting = sums_.weighed_not_counted(in().to);
            const auto top = quantity::wide{diverted_to_date_.sum + waiting.sum} * claimed.sum +
                             quantity::wide{on_hand.sum} * net.sum;
            put("projected_tons", quantity::nearest_double(top * ton.numerator, claimed.sum * ton.denominator), "tons",
                behind({&diverted_to_date_, &waiting, &on_hand, &net, &claimed}));
        }
        const auto fee = quantity::decimal_of(s_.setting_on("tipping_fee_per_ton", in().to));
        if (fee.mantissa == 0) {
            put("tipping_avoided", {}, "$", {}, "no landfill fee is given");
        } else {
            const auto tons = quantity::short_tons_exact(weight{diverted_.sum}, s_.the_award->unit);
            put("tipping_avoided",
                quantity::money{quantity::half_up(tons.numerator * fee.mantissa * 100,
                                                  tons.denominator * quantity::power_of_ten(fee.scale))},
                "$", behind({&diverted_}));
        }
    }

    void agency_money() {
        dollars("payments_received", grant::payments_received(s_, in()));
        dollars("claimed_unpaid", grant::claimed_unpaid(s_, in().to));
        dollars("retained_to_date", grant::retained_through(s_, in().to));
        const auto lines = grant::financial_lines_through(s_, in().to);
        for (char letter = 'a'; letter <= 'o'; ++letter)
            dollars(std::string{"line_10"} + letter, lines[letter]);
    }

    /// The order and the sentences of all_figure_names().
    void put_in_order() {
        std::vector<figure> ordered;
        for (const auto& each : all_figure_names())
            for (auto& made : report_.figures)
                if (made.name == each.name) {
                    made.meaning = each.meaning;
                    ordered.push_back(std::move(made));
                }
        report_.figures = std::move(ordered);
    }
};

} // namespace

const figure* report::find(std::string_view name) const {
    for (const auto& each : figures)
        if (each.name == name) return &each;
    return nullptr;
}

report figures_of(const season& of, const reconcile::reckoning& reckoned, quantity::quarter quarter, entry_no as_of,
                  bool closed) {
    if (!of.the_award) throw input_error("the ledger has no award yet; take in award.csv first");
    return maker{of, reckoned, quarter, as_of, closed}.run();
}

std::string text_of(const value& of) {
    struct writer {
        std::string operator()(std::monostate) const { return ""; }
        std::string operator()(std::int64_t count) const { return fmt::format("{}", count); }
        std::string operator()(weight each) const { return quantity::text_of(each); }
        std::string operator()(quantity::money each) const { return quantity::text_of(each); }
        std::string operator()(real each) const { return fmt::format("{}", each); }
    };
    return std::visit(writer{}, of);
}

} // namespace tarewell::figures
