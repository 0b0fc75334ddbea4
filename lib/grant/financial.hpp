#pragma once
#include "records/season.hpp"
#include "quantity/money.hpp"

#include <string>
#include <vector>

namespace tarewell::grant {

using quantity::day;

/// A reimbursement request with what was paid of it.
struct request_state {
    std::string request;
    day date;
    std::vector<std::size_t> costs; ///< places in the season's costs
    quantity::money direct, indirect, paid, retained;
    [[nodiscard]] quantity::money claimed() const { return direct + indirect; }
    [[nodiscard]] quantity::money open() const { return claimed() - paid - retained; }
};

/// All requests dated by `last`, by date, then id, with payments dated by then.
std::vector<request_state> requests_through(const ledger::season& of, day last);

/// How far the budget moved between its lines by `last` since it was awarded: the amounts by which lines grew, over
/// the total of grant and match as awarded (2 CFR 200.308).
struct budget_moves {
    quantity::money moved, total;
    bool past_limit = false; ///< more than the setting budget_move_percent
    /// Moved over total; 0 without a budget.
    [[nodiscard]] double share() const {
        return total.count() > 0 ? quantity::nearest_double(moved.count(), total.count()) : 0;
    }
};
budget_moves budget_moves_through(const ledger::season& of, day last);

} // namespace tarewell::grant
