#include "figures/second_sums.hpp"

#include "grant/account.hpp"

#include <algorithm>
#include <functional>
#include <map>
#include <stdexcept>

namespace tarewell::figures {

using namespace ledger; // NOLINT

namespace {

std::int64_t units_in(const cell& of) {
    if (const auto* heft = std::get_if<weight>(&of)) return heft->count();
    if (const auto* dollars = std::get_if<money>(&of)) return dollars->count();
    if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
    return 0;
}

struct worked_out {
    figures::value value;
    std::string way;
};

/// Filters rows of the evidence tables and sums their cells.
class summer {
  public:
    summer(const report& of, const std::vector<table>& tables, const season& season)
        : on_{of.basis}, tables_{tables}, s_{season}, terms_{season.terms_on(of.basis.days.to)} {}

    worked_out work_out(const std::string& name) {
        if (const auto done = made_.find(name); done != made_.end()) return done->second;
        return made_[name] = first_time(name);
    }

  private:
    const basis& on_;
    const std::vector<table>& tables_;
    const season& s_;
    ledger::award terms_; ///< in force on the quarter's last day
    std::map<std::string, worked_out> made_;

    enum class when { in_quarter, to_date, before };
    using row_test = std::function<bool(const std::vector<cell>&)>;

    [[nodiscard]] const table& the(std::string_view name) const {
        for (const auto& each : tables_)
            if (each.name == name) return each;
        throw std::logic_error("no evidence table " + std::string{name});
    }
    [[nodiscard]] bool holds(const cell& date, when which) const {
        const auto* on = std::get_if<day>(&date);
        if (on == nullptr) return false;
        if (which == when::in_quarter) return on_.days.holds(*on);
        return which == when::to_date ? *on <= on_.days.to : *on < on_.days.from;
    }
    [[nodiscard]] row_test dated(const table& of, std::string_view column, when which) const {
        return [this, at = of.column(column), which](const std::vector<cell>& row) { return holds(row[at], which); };
    }
    static row_test both(row_test a, row_test b) {
        return [a = std::move(a), b = std::move(b)](const std::vector<cell>& row) { return a(row) && b(row); };
    }
    static row_test says(const table& of, std::string_view column, std::string text, bool wanted = true) {
        return [at = of.column(column), text = std::move(text), wanted](const std::vector<cell>& row) {
            const auto* words = std::get_if<std::string>(&row[at]);
            return (words != nullptr && *words == text) == wanted;
        };
    }
    static std::int64_t count(const table& of, const row_test& test) {
        return std::count_if(of.rows.begin(), of.rows.end(), test);
    }
    static std::int64_t sum(const table& of, std::string_view column, const row_test& test) {
        std::int64_t all = 0;
        for (const auto& row : of.rows)
            if (test(row)) all += units_in(row[of.column(column)]);
        return all;
    }

    worked_out rows(std::string_view name, std::string_view column) const {
        const auto& of = the(name);
        return {count(of, dated(of, column, when::in_quarter)), "rows of " + of.name + " with " + heading(of, column) + " in the quarter"};
    }
    worked_out hefts(std::string_view name, std::string_view what, std::string_view column) const {
        const auto& of = the(name);
        return {weight{sum(of, what, dated(of, column, when::in_quarter))},
                heading(of, what) + " of " + of.name + " with " + heading(of, column) + " in the quarter"};
    }
    static std::string heading(const table& of, std::string_view column) { return "'" + of.columns[of.column(column)].heading + "'"; }

    worked_out first_time(const std::string& name) {
        if (auto found = bundles(name)) return *found;
        if (auto found = growers(name)) return *found;
        if (auto found = bales(name)) return *found;
        if (auto found = tons(name)) return *found;
        if (auto found = dollars(name)) return *found;
        if (auto found = ratios(name)) return *found;
        throw std::logic_error("no second sum for the figure " + name);
    }

    std::optional<worked_out> bundles(const std::string& name) const {
        for (const std::string stage : {"registered", "received", "rejected"}) {
            if (name == stage + "_bundles") return rows("Bundles", stage + "_on");
            if (name == stage + "_estimate") return hefts("Bundles", "estimate", stage + "_on");
        }
        if (name == "baled_bundles") return rows("Bundles", "baled_on");
        const auto& of = the("Bundles");
        const auto left = dated(of, "left_on", when::to_date);
        const auto here = both(dated(of, "received_on", when::to_date), [&](const auto& row) { return !left(row); });
        const std::string way = "Bundles received by the last day whose 'Left on' is empty or later";
        if (name == "on_hand_bundles") return worked_out{count(of, here), "rows of " + way};
        if (name == "on_hand_estimate") return worked_out{weight{sum(of, "estimate", here)}, "'Estimate' of " + way};
        return std::nullopt;
    }

    std::optional<worked_out> growers(const std::string& name) const {
        const auto some = [](const table& of, std::string_view column) {
            return row_test{[at = of.column(column)](const std::vector<cell>& row) { return units_in(row[at]) > 0; }};
        };
        const auto& of = the("By grower");
        const auto known = says(of, "grower", std::string{unknown_grower}, false);
        if (name == "growers_served") return worked_out{count(of, both(known, some(of, "received"))), "growers with 'Received' above 0"};
        if (name == "growers_new")
            return worked_out{count(of, both(known, dated(of, "first_received", when::in_quarter))), "growers with 'First received' in the quarter"};
        if (name == "growers_to_date")
            return worked_out{count(of, both(known, dated(of, "first_received", when::to_date))), "growers with 'First received' by the last day"};
        const auto& sites = the("By site");
        if (name == "sites_active") return worked_out{count(sites, some(sites, "receipts")), "sites with 'Receipts' above 0"};
        return std::nullopt;
    }

    std::optional<worked_out> bales(const std::string& name) const {
        if (name == "bales_made") return rows("Bales", "made_on");
        if (name == "bales_weighed") return rows("Bales", "weighed_on");
        if (name == "bale_net_weight") return hefts("Bales", "net", "weighed_on");
        if (name == "bale_estimate") return hefts("Bales", "estimate", "weighed_on");
        if (name == "residue_weight") return hefts("Rejects", "residue", "date");
        const auto& of = the("Bales");
        if (name == "bales_on_hand") {
            const auto gone = dated(of, "shipped_on", when::to_date);
            return worked_out{count(of, both(dated(of, "made_on", when::to_date), [&](const auto& row) { return !gone(row); })),
                              "Bales made by the last day whose 'Shipped on' is empty or later"};
        }
        if (name == "diverted_weight") return worked_out{weight{diverted(when::in_quarter)}, diverted_way("in the quarter")};
        return std::nullopt;
    }

    [[nodiscard]] std::int64_t diverted(when which) const {
        const auto& rejects = the("Rejects");
        const bool by_acceptance = s_.the_award->counted_when == counting::accepted;
        const auto& of = the(by_acceptance ? "Acceptances" : "Bales");
        return sum(of, by_acceptance ? "weight" : "net", dated(of, by_acceptance ? "date" : "counted_on", which)) -
               sum(rejects, "residue", dated(rejects, "counted_on", which));
    }
    [[nodiscard]] std::string diverted_way(const std::string& days) const {
        return (s_.the_award->counted_when == counting::accepted ? "weight of Acceptances " : "'Net' of Bales with 'Counted on' ") + days +
               ", less 'Residue' of Rejects with 'Counted on' " + days;
    }

    std::optional<worked_out> tons(const std::string& name) const {
        const auto in_tons = [&](std::int64_t units, std::string way) {
            return worked_out{quantity::short_tons(weight{units}, s_.the_award->unit), std::move(way) + ", in tons of 2,000 lb"};
        };
        if (name == "diverted_tons") return in_tons(diverted(when::in_quarter), diverted_way("in the quarter"));
        if (name == "diverted_tons_to_date") return in_tons(diverted(when::to_date), diverted_way("by the last day"));
        const auto& bales = the("Bales");
        if (name == "shipped_tons")
            return in_tons(sum(bales, "net", dated(bales, "shipped_and_weighed_on", when::in_quarter)), "'Net' of Bales with 'Shipped and weighed on' in the quarter");
        const auto& taken = the("Acceptances");
        if (name == "accepted_tons") return in_tons(sum(taken, "weight", dated(taken, "date", when::in_quarter)), "weight of Acceptances in the quarter");
        return std::nullopt;
    }

    [[nodiscard]] std::int64_t on_grant(when which) const {
        const auto& of = the("Costs");
        return sum(of, "amount", both(both(says(of, "fund", "grant"), says(of, "category", "indirect", false)), dated(of, "date", which)));
    }
    [[nodiscard]] std::int64_t match(when which) const {
        const auto& of = the("Costs");
        const auto& gifts = the("In-kind");
        return sum(of, "amount", both(says(of, "fund", "match"), dated(of, "date", which))) + sum(gifts, "value", dated(gifts, "date", which));
    }
    /// The base of indirect costs in cents through a day.
    [[nodiscard]] std::int64_t base_through(day last) const {
        const auto& of = the("Costs");
        const auto limit = quantity::money_from(quantity::decimal_of(s_.setting_on("subaward_limit", last))).count();
        const auto by_then = [at = of.column("date"), last](const std::vector<cell>& row) { return std::get<day>(row[at]) <= last; };
        const auto in_base = both(both(says(of, "fund", "grant"), says(of, "category", "equipment", false)),
                                  both(says(of, "category", "indirect", false), by_then));
        std::int64_t base = 0;
        std::map<std::string, std::int64_t> subawards;
        for (const auto& row : of.rows) {
            if (!in_base(row)) continue;
            const auto amount = units_in(row[of.column("amount")]);
            base += amount;
            if (const auto* named = std::get_if<std::string>(&row[of.column("subaward")])) subawards[*named] += amount;
        }
        for (const auto& [name, all] : subawards) base -= std::max<std::int64_t>(0, all - limit);
        return std::max<std::int64_t>(0, base);
    }
    /// Each percent on what the base grew by while it was in force; rounded once.
    [[nodiscard]] std::int64_t indirect(when which) const {
        const auto last = which == when::before ? on_.days.from - date::days{1} : on_.days.to;
        std::vector<std::pair<day, std::optional<decimal>>> percents{{day::min(), s_.the_award->indirect_percent}};
        for (const auto& each : s_.amendments)
            if (each.indirect_percent && each.date <= last) percents.emplace_back(each.date, each.indirect_percent);
        quantity::wide billionths = 0;
        for (std::size_t i = 0; i < percents.size(); ++i) {
            if (!percents[i].second) continue;
            const auto until = i + 1 < percents.size() ? percents[i + 1].first - date::days{1} : last;
            const auto grown = base_through(until) - (i == 0 ? 0 : base_through(percents[i].first - date::days{1}));
            billionths += quantity::wide{grown} * percents[i].second->mantissa * quantity::power_of_ten(9 - percents[i].second->scale);
        }
        return quantity::half_up(billionths, quantity::power_of_ten(11));
    }

    std::optional<worked_out> dollars(const std::string& name) const {
        const auto made = [](std::int64_t cents, const char* way) { return worked_out{money{cents}, way}; };
        if (name == "grant_spent") return made(on_grant(when::in_quarter), "'Amount' of Costs on the grant in the quarter, category indirect left out");
        if (name == "grant_spent_to_date") return made(on_grant(when::to_date), "the same by the last day");
        if (name == "indirect_to_date") return made(indirect(when::to_date), "the percent of Costs on the grant by the last day, less equipment and what passes the limit in each subaward");
        if (name == "indirect_claimed") return made(indirect(when::to_date) - indirect(when::before), "the same by the last day less the same by the day before the quarter");
        if (name == "match_given") return made(match(when::in_quarter), "'Amount' of Costs on match and 'Value' of In-kind in the quarter");
        if (name == "match_to_date") return made(match(when::to_date), "the same by the last day");
        const auto all_on_grant = on_grant(when::to_date) + indirect(when::to_date);
        const auto& budget = the("Budget");
        if (name == "grant_left") return made(sum(budget, "grant", [](const auto&) { return true; }) - all_on_grant, "'Grant budget' of Budget less the grant's direct and indirect costs to date");
        if (name == "match_required")
            return made(grant::match_required(terms_, money{all_on_grant}).count(), "the match percent applied to the second sums of direct and indirect to date");
        return std::nullopt;
    }

    std::optional<worked_out> ratios(const std::string& name);
    worked_out over(std::int64_t top, std::int64_t bottom, std::string way) const {
        if (bottom == 0) return {{}, std::move(way)};
        return {bottom > 0 ? quantity::nearest_double(top, bottom) : quantity::nearest_double(-quantity::wide{top}, -quantity::wide{bottom}), std::move(way)};
    }
    worked_out per_ton(std::int64_t cents, std::int64_t units, const char* way) const {
        if (units <= 0) return {{}, way};
        const auto tons = quantity::short_tons_exact(weight{units}, s_.the_award->unit);
        return {quantity::nearest_double(quantity::wide{cents} * tons.denominator, 100 * tons.numerator), way};
    }
    std::int64_t units(const std::string& name) {
        const auto known = work_out(name).value;
        if (const auto* heft = std::get_if<weight>(&known)) return heft->count();
        return std::get<std::int64_t>(known);
    }
};

std::optional<worked_out> summer::ratios(const std::string& name) {
    if (name == "weight_over_estimate") return over(units("bale_net_weight"), units("bale_estimate"), "the second sums of net over estimate");
    if (name == "rejected_share")
        return over(units("rejected_bundles"), units("rejected_bundles") + units("received_bundles"), "the second sums of rejected over rejected and received");
    if (name == "residue_share") return over(units("residue_weight"), units("bale_net_weight"), "the second sums of residue over net");
    if (name == "goal_share") {
        const auto goal = terms_.goal_tons;
        if (goal.mantissa == 0) return worked_out{{}, "the goal is 0"};
        const auto exact = quantity::short_tons_exact(weight{diverted(when::to_date)}, s_.the_award->unit);
        return worked_out{quantity::nearest_double(exact.numerator * quantity::power_of_ten(goal.scale), exact.denominator * goal.mantissa),
                          "the second sum of tons to date over the goal"};
    }
    const auto quarter = on_grant(when::in_quarter) + indirect(when::to_date) - indirect(when::before);
    const auto to_date = on_grant(when::to_date) + indirect(when::to_date);
    if (name == "cost_per_ton") return per_ton(quarter + match(when::in_quarter), diverted(when::in_quarter), "the second sums of grant, indirect and match over tons");
    if (name == "grant_cost_per_ton") return per_ton(quarter, diverted(when::in_quarter), "the second sums of grant and indirect over tons");
    if (name == "cost_per_ton_to_date") return per_ton(to_date + match(when::to_date), diverted(when::to_date), "the same with the match, to date");
    if (name == "grant_cost_per_ton_to_date") return per_ton(to_date, diverted(when::to_date), "the same to date");
    return std::nullopt;
}

struct difference_of {
    figures::value operator()(std::int64_t a, std::int64_t b) const { return a - b; }
    figures::value operator()(weight a, weight b) const { return a - b; }
    figures::value operator()(money a, money b) const { return a - b; }
    figures::value operator()(real a, real b) const { return a - b; }
    template <class A, class B> figures::value operator()(const A&, const B&) const { return {}; }
};

} // namespace

std::vector<second_sum> second_sums(const report& of, const std::vector<table>& tables, const season& season) {
    summer second{of, tables, season};
    std::vector<second_sum> sums;
    for (const auto& figure : of.figures) {
        auto worked = second.work_out(figure.name);
        second_sum each{figure.name, figure.value, worked.value, {}, false, std::move(worked.way)};
        each.difference = std::visit(difference_of{}, each.filed, each.second);
        each.ties = each.filed == each.second;
        sums.push_back(std::move(each));
    }
    return sums;
}

} // namespace tarewell::figures
