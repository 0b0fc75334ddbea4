#include "grant/financial.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace tarewell::grant {

using namespace ledger; // NOLINT

std::vector<request_state> requests_through(const season& of, day last) {
    std::map<std::string, request_state> by_id;
    for (const auto& each : of.requests) {
        if (each.date > last) continue;
        auto& state = by_id[each.request];
        state.request = each.request;
        state.date = each.date;
        state.indirect = each.indirect;
        state.direct += of.costs[each.cost].amount;
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

budget_moves budget_moves_through(const season& of, day last) {
    budget_moves moves;
    std::map<std::string, std::int64_t> before;
    for (const auto& line : of.budget) {
        before[line.category] = line.grant.count() + line.match.count();
        moves.total += line.grant + line.match;
    }
    for (const auto& line : of.budget_on(last)) {
        const auto grown = line.grant.count() + line.match.count() - before[line.category];
        if (grown > 0) moves.moved += quantity::money{grown};
    }
    const auto limit = quantity::decimal_of(of.setting_on("budget_move_percent", last));
    moves.past_limit = quantity::wide{moves.moved.count()} * 100 * quantity::power_of_ten(limit.scale) >
                       quantity::wide{moves.total.count()} * limit.mantissa;
    return moves;
}

} // namespace tarewell::grant
