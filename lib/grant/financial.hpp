#pragma once
#include "quantity/money.hpp"
#include "records/season.hpp"

#include <string>
#include <vector>

namespace tarewell::grant {

using quantity::day;

/// What a request's row claims: its cost, less the program income that was spent on it by the request's day.
quantity::money claimed_of(const records::season& of, const records::request_row& row);
/// What of a cost program income had paid by a day.
quantity::money paid_from_income(const records::season& of, const records::cost& cost, day by);

/// The day on which a liquidation takes its amount off the obligations open: that on which the cost it names was
/// incurred, since the cost is an expenditure from then on; its own where it deobligates.
day counted_on(const records::season& of, const records::liquidation& each);

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
std::vector<request_state> requests_through(const records::season& of, day last);

/// How much was moved between the budget's lines by `last`, cumulatively, over the total of grant and match as last
/// approved (2 CFR 200.308): what each amendment moved from line to line, what it added to or took off the whole apart,
/// and what was spent beyond a line as it stands.
struct budget_moves {
    quantity::money moved, total;
    bool past_limit = false; ///< more than the setting budget_move_percent
    /// Moved over total; 0 without a budget.
    [[nodiscard]] double share() const {
        return total.count() > 0 ? quantity::nearest_double(moved.count(), total.count()) : 0;
    }
};
budget_moves budget_moves_through(const records::season& of, day last);

} // namespace tarewell::grant
