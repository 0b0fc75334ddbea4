#pragma once
#include "quantity/money.hpp"
#include "reconcile/tally.hpp"

#include <array>
#include <string>
#include <vector>

namespace tarewell::grant {

using quantity::day;
using quantity::span_of_days;
using reconcile::tally;

/// Money received from the agency, dated in the days given: advances, reimbursements and retainage let go.
tally payments_received(const ledger::season& of, span_of_days days);

/// Claimed in requests dated by `last` (their costs and indirect), less what reimbursements by then paid and
/// what the agency kept back of them.
tally claimed_unpaid(const ledger::season& of, day last);

/// Kept back by the agency by `last`, less retainage let go by then.
tally retained_through(const ledger::season& of, day last);

/// Obligations on the grant dated by `last`, less what of them was paid or let go by then.
tally obligations_open(const ledger::season& of, day last);

/// The lines of the Federal Financial Report (SF-425, OMB 4040-0014), 10a to 10o, through a day: cumulative, in
/// cents. Whatever the agency, they are its share and the recipient's. Here
///   a receipts; b costs on the grant paid by the day (paid_on) and indirect costs to date; c = a - b;
///   d the budget's grant total; e direct and indirect costs on the grant less m; f obligations open; g = e + f;
///   h = d - g; i the match that goes with d, by the award's percent, or without one the budget's match total;
///   j match given; k = i - j; l program income earned; m of it spent by deduction; n by addition; o = l - m - n.
struct financial_lines {
    std::array<tally, 15> lines;
    [[nodiscard]] const tally& operator[](char letter) const { return lines[static_cast<std::size_t>(letter - 'a')]; }
};
financial_lines financial_lines_through(const ledger::season& of, day last);

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
};
budget_moves budget_moves_through(const ledger::season& of, day last);

} // namespace tarewell::grant
