#include "grant/financial.hpp"

#include "grant/account.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace tarewell::grant {

using namespace records; // NOLINT
using quantity::money;

money paid_from_income(const season& of, const cost& cost, day by) {
    money paid;
    for (const auto& each : of.incomes)
        if (!each.earned && each.cost == cost.id && each.date <= by) paid += each.amount;
    return paid;
}

money claimed_of(const season& of, const request_row& row) {
    const auto& cost = of.costs[row.cost];
    return cost.amount - paid_from_income(of, cost, row.date);
}

day counted_on(const season& of, const liquidation& each) {
    return each.cost.empty() ? each.date : of.costs[*of.find_cost(each.cost)].date;
}

std::vector<request_state> requests_through(const season& of, day last) {
    std::map<std::string, request_state> by_id;
    for (const auto& each : of.requests) {
        if (each.date > last) continue;
        auto& state = by_id[each.request];
        state.request = each.request;
        state.date = each.date;
        state.indirect = each.indirect;
        state.direct += claimed_of(of, each);
        state.costs.push_back(each.cost);
    }
    for (const auto& each : of.payments) {
        const auto found = by_id.find(each.request);
        if (each.date > last || each.kind != payment_kind::reimbursement || found == by_id.end()) continue;
        found->second.paid += each.amount;
        found->second.retained += each.retained;
    }
    std::vector<request_state> states;
    for (auto& [id, state] : by_id)
        states.push_back(std::move(state));
    std::sort(states.begin(), states.end(), [](const request_state& a, const request_state& b) {
        return std::tie(a.date, a.request) < std::tie(b.date, b.request);
    });
    return states;
}

namespace {

using amounts = std::map<std::string, money>;

amounts by_category(const std::vector<budget_line>& lines) {
    amounts sums;
    for (const auto& line : lines)
        sums[line.category] += line.grant + line.match;
    return sums;
}

/// What lines gained from other lines: all that they grew by, less what the whole grew by; or all that others shrank
/// by.
money moved_between(amounts before, const amounts& after) {
    money grown, shrunk;
    for (const auto& [category, amount] : after) {
        const auto by = amount - before[category];
        (by.count() > 0 ? grown : shrunk) += by.count() > 0 ? by : -by;
        before.erase(category);
    }
    for (const auto& [category, amount] : before)
        shrunk += amount;
    return std::min(grown, shrunk);
}

/// What was spent beyond lines of direct costs, on grant and match, as far as other lines leave it.
money overspent(const season& of, const std::vector<budget_line>& lines, day last) {
    amounts left = by_category(lines);
    left.erase("indirect");
    for (const auto& cost : of.costs)
        if (cost.date <= last && cost.category != "indirect") left[cost.category] -= cost.amount;
    for (const auto& gift : of.gifts)
        if (gift.date <= last && !gift.category.empty() && gift.category != "indirect")
            left[gift.category] -= gift.value;
    money over, others;
    for (const auto& [category, amount] : left)
        (amount.count() < 0 ? over : others) += amount.count() < 0 ? -amount : amount;
    return std::min(over, others);
}

} // namespace

budget_moves budget_moves_through(const season& of, day last) {
    budget_moves moves;
    if (of.budget.empty()) return moves;
    auto known = by_category(of.budget);
    for (const auto& each : of.amendments) {
        if (each.date > last) break;
        auto amended = known;
        for (const auto& line : of.rebudgets)
            if (line.amendment == each.id) amended[line.category] = line.grant + line.match;
        moves.moved += moved_between(known, amended);
        known = std::move(amended);
    }
    const auto lines = of.budget_on(last);
    for (const auto& line : lines)
        moves.total += line.grant + line.match;
    moves.moved += overspent(of, lines, last);
    const auto limit = of.number_on("budget_move_percent", last);
    moves.past_limit = quantity::is_over_percent(moves.moved.count(), moves.total.count(), limit);
    return moves;
}

} // namespace tarewell::grant
