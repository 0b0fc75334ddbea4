// What a reviewer would ask about the money that passes between the program and its agency.
#include "quantity/dollars.hpp"
#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <tuple>

namespace tarewell::reconcile {

using quantity::dollars;

using namespace records; // NOLINT

namespace {

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

/// What of each disallowed cost that was claimed is still with the program: a request that claims the credit returns
/// it, or a refund on the credit's day or later; a refund returns the earliest first.
std::vector<flag_maker::outstanding> flag_maker::owed_to_agency() const {
    std::vector<outstanding> all;
    for (std::size_t i = 0; i < s_.costs.size(); ++i)
        if (const auto& credit = s_.costs[i];
            credit.disallows && s_.costs[*credit.disallows].claimed_in && !credit.claimed_in)
            all.push_back({i, -credit.amount});
    std::stable_sort(all.begin(), all.end(), [&](const outstanding& a, const outstanding& b) {
        return s_.costs[a.credit].date < s_.costs[b.credit].date;
    });
    for (const auto* payment : by_date(s_.payments)) {
        auto left = payment->amount.count() < 0 ? -payment->amount : quantity::money{};
        for (auto& each : all) {
            if (s_.costs[each.credit].date > payment->date) continue;
            const auto returned = std::min(left, each.amount);
            left -= returned, each.amount -= returned;
        }
    }
    return all;
}

void flag_maker::look_at_disallowed() {
    const auto rows_of = [&](const cost& credit) {
        return std::vector<row_ref>{{kind::cost, credit.entry}, {kind::cost, s_.costs[*credit.disallows].entry}};
    };
    std::map<std::size_t, quantity::money> taken_back;
    for (const auto& credit : s_.costs) {
        if (!credit.disallows) continue;
        const auto& cost = s_.costs[*credit.disallows];
        raise("disallowed", credit.id, credit.date, rows_of(credit),
              fmt::format("Cost {} takes back {} of cost {} of {}, which the agency disallowed.", credit.id,
                          dollars(-credit.amount), cost.id, quantity::text_of(cost.date)));
        auto& of_cost = taken_back[*credit.disallows];
        of_cost -= credit.amount;
        if (of_cost > cost.amount)
            raise("disallowed-above-cost", credit.id, credit.date, rows_of(credit),
                  fmt::format("With cost {}, {} of cost {} is taken back, which was {}.", credit.id, dollars(of_cost),
                              cost.id, dollars(cost.amount)));
    }
    for (const auto& each : owed_to_agency()) {
        const auto& credit = s_.costs[each.credit];
        const auto& cost = s_.costs[*credit.disallows];
        if (each.amount.count() == 0) continue;
        raise(
            "disallowed-not-returned", credit.id, credit.date, rows_of(credit),
            fmt::format("Request {} claimed cost {}; of the {} disallowed of it, {} is neither taken off a request nor "
                        "refunded (a payment below 0) since.",
                        s_.requests[*cost.claimed_in].request, cost.id, dollars(-credit.amount), dollars(each.amount)));
    }
}

} // namespace tarewell::reconcile
