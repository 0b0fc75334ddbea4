// What a reviewer would ask about the money that passes between the program and its agency.
#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace tarewell::reconcile {

using namespace records; // NOLINT

namespace {

std::string dollars(quantity::money amount) { return "$" + quantity::text_of(amount); }

quantity::money authorized_on(const season& of, day on) {
    quantity::money all;
    for (const auto& line : of.budget_on(on))
        all += line.grant;
    return all;
}

std::vector<const payment*> by_date(const std::vector<payment>& payments) {
    std::vector<const payment*> sorted;
    for (const auto& each : payments)
        sorted.push_back(&each);
    std::stable_sort(sorted.begin(), sorted.end(), [](const payment* a, const payment* b) {
        return std::tie(a->date, a->order) < std::tie(b->date, b->order);
    });
    return sorted;
}

} // namespace

void flag_maker::look_at_agency() {
    look_at_award_total();
    look_at_claimed_costs();
    look_at_income_as_match();
    look_at_disallowed();
}

/// The payment with which the agency has paid more than the budget grants; and what went back to it.
void flag_maker::look_at_award_total() {
    quantity::money received;
    bool over = false;
    for (const auto* each : by_date(s_.payments)) {
        received += each->amount;
        if (each->amount.count() < 0)
            raise("refunded", each->id, each->date, {{kind::payment, each->entry}},
                  fmt::format("Payment {} refunds {} to the agency.", each->id, dollars(-each->amount)));
        const auto authorized = authorized_on(s_, each->date);
        const bool was_over = std::exchange(over, received > authorized);
        if (over && !was_over && !s_.budget.empty())
            raise("paid-above-award", each->id, each->date, {{kind::payment, each->entry}},
                  fmt::format("With payment {} the agency has paid {}; the budget grants {}.", each->id,
                              dollars(received), dollars(authorized)));
    }
}

/// A cost claimed before it was paid, and one that program income paid after it was claimed.
void flag_maker::look_at_claimed_costs() {
    for (const auto& each : s_.requests) {
        const auto& cost = s_.costs[each.cost];
        const std::vector<row_ref> rows{{kind::request, each.entry}, {kind::cost, cost.entry}};
        if (!cost.paid_on || *cost.paid_on > each.date)
            raise("claimed-not-paid", each.request, each.date, rows,
                  fmt::format("Request {} of {} claims cost {}, which {}.", each.request, quantity::text_of(each.date),
                              cost.id,
                              cost.paid_on ? "was paid on " + quantity::text_of(*cost.paid_on) : "is not paid yet"));
        for (const auto& spent : s_.incomes)
            if (!spent.earned && spent.cost == cost.id && spent.date > each.date)
                raise("claimed-and-income", spent.id, spent.date,
                      {{kind::income, spent.entry}, {kind::request, each.entry}, {kind::cost, cost.entry}},
                      fmt::format("Program income {} pays {} of cost {}, which request {} had claimed whole.", spent.id,
                                  dollars(spent.amount), cost.id, each.request));
    }
}

void flag_maker::look_at_income_as_match() {
    for (const auto& each : s_.incomes)
        if (!each.earned && each.method == income_method::match)
            raise("income-as-match", each.id, each.date, {{kind::income, each.entry}},
                  fmt::format("Program income {} of {} is spent as match, which takes the agency's prior approval.",
                              each.id, dollars(each.amount)));
}

/// Costs that the agency disallowed, and what of them it had been asked for and has not got back: by a request that claims
/// the credit, or by a refund on the credit's day or later.
void flag_maker::look_at_disallowed() {
    std::map<std::size_t, quantity::money> taken_back;
    quantity::money refunds_used;
    for (const auto& credit : s_.costs) {
        if (!credit.disallows) continue;
        const auto& cost = s_.costs[*credit.disallows];
        const std::vector<row_ref> rows{{kind::cost, credit.entry}, {kind::cost, cost.entry}};
        raise("disallowed", credit.id, credit.date, rows,
              fmt::format("Cost {} takes back {} of cost {} of {}, which the agency disallowed.", credit.id,
                          dollars(-credit.amount), cost.id, quantity::text_of(cost.date)));
        auto& of_cost = taken_back[*credit.disallows];
        of_cost -= credit.amount;
        if (of_cost > cost.amount)
            raise("disallowed-above-cost", credit.id, credit.date, rows,
                  fmt::format("With cost {}, {} of cost {} is taken back, which was {}.", credit.id, dollars(of_cost),
                              cost.id, dollars(cost.amount)));
        if (!cost.claimed_in || credit.claimed_in) continue;
        quantity::money refunded;
        for (const auto& payment : s_.payments)
            if (payment.amount.count() < 0 && payment.date >= credit.date) refunded -= payment.amount;
        refunds_used -= credit.amount;
        if (refunded < refunds_used)
            raise("disallowed-not-returned", credit.id, credit.date, rows,
                  fmt::format("Request {} claimed cost {}; the {} disallowed of it is neither taken off a request nor "
                              "refunded (a payment below 0) since.",
                              s_.requests[*cost.claimed_in].request, cost.id, dollars(-credit.amount)));
    }
}

} // namespace tarewell::reconcile
