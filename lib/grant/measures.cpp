#include "grant/measures.hpp"

#include "grant/account.hpp"

#include <algorithm>
#include <set>

namespace tarewell::grant::measures {
namespace {

using namespace ledger; // NOLINT
using reconcile::reckoning;
using reconcile::see_measured;
using reconcile::shown_in;

constexpr std::int64_t cents = 100;

bool is_direct(const cost& each) { return each.fund == fund::grant && each.category != "indirect"; }

void see_direct(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.costs)
        if (is_direct(each)) see({{kind::cost, each.entry, each.amount.count()}, each.date});
}

void see_paid(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.costs)
        if (is_direct(each) && each.paid_on) see({{kind::cost, each.entry, each.amount.count()}, *each.paid_on});
}

void see_indirect_base(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.costs)
        if (is_in_base(each)) see({{kind::cost, each.entry, each.amount.count()}, each.date});
}

void see_match_costs(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.costs)
        if (each.fund == fund::match) see({{kind::cost, each.entry, each.amount.count()}, each.date});
}

void see_in_kind(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.gifts)
        see({{kind::inkind, each.entry, each.value.count()}, each.date});
}

template <money budget_line::*Column>
void see_budget(const season& s, const reckoning&, day last, const see_measured& see) {
    for (const auto& line : s.budget_on(last)) {
        const bool amended = std::any_of(s.rebudgets.begin(), s.rebudgets.end(),
                                         [&](const rebudget& each) { return each.entry == line.entry; });
        see({{amended ? kind::rebudget : kind::budget, line.entry, (line.*Column).count()}});
    }
}

/// Payments by what each adds; nothing of those for which it adds none.
template <class Adds> void see_each_payment(const season& s, const see_measured& see, Adds&& adds) {
    for (const auto& each : s.payments)
        if (const std::optional<money> amount = adds(each))
            see({{kind::payment, each.entry, amount->count()}, each.date});
}

void see_payments(const season& s, const reckoning&, day, const see_measured& see) {
    see_each_payment(s, see, [](const payment& each) { return std::optional{each.amount}; });
}

void see_paid_back(const season& s, const reckoning&, day, const see_measured& see) {
    see_each_payment(s, see, [](const payment& each) {
        return each.kind == payment_kind::reimbursement ? std::optional{each.amount + each.retained} : std::nullopt;
    });
}

void see_retained(const season& s, const reckoning&, day, const see_measured& see) {
    see_each_payment(s, see, [](const payment& each) {
        return each.retained == money{} ? std::nullopt : std::optional{each.retained};
    });
}

void see_released(const season& s, const reckoning&, day, const see_measured& see) {
    see_each_payment(s, see, [](const payment& each) {
        return each.kind == payment_kind::retainage ? std::optional{each.amount} : std::nullopt;
    });
}

void see_claimed(const season& s, const reckoning&, day, const see_measured& see) {
    std::set<std::string> seen;
    for (const auto& each : s.requests) {
        const auto& cost = s.costs[each.cost];
        const auto indirect = seen.insert(each.request).second ? each.indirect : money{};
        see({{kind::request, each.entry, (cost.amount + indirect).count()}, each.date});
        see({{kind::cost, cost.entry, std::nullopt}, each.date});
    }
}

void see_obligations(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.obligations)
        if (each.fund == fund::grant) see({{kind::obligation, each.entry, each.amount.count()}, each.date});
    for (const auto& each : s.liquidations)
        if (s.obligations[each.obligation].fund == fund::grant)
            see({{kind::liquidation, each.entry, -each.amount.count()}, each.date});
}

template <bool Earned, bool Deducts> void see_income(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.incomes)
        if (each.earned == Earned && (Earned || each.deducts == Deducts))
            see({{kind::income, each.entry, each.amount.count()}, each.date});
}

constexpr shown_in::only on_grant{"fund", "grant"}, no_indirect{"category", "indirect", false};

constexpr measure by_date(decltype(measure::rows) rows, std::string_view table,
                          std::array<shown_in::only, 3> where = {}, std::string_view adds = "amount") {
    return {rows, cents, {.table = table, .on = "date", .adds = adds, .where = where}};
}
constexpr measure of_budget(decltype(measure::rows) rows, std::string_view column) {
    return {rows, cents, {.table = "Budget", .adds = column}};
}

} // namespace

const measure direct = by_date(see_direct, "Costs", {on_grant, no_indirect});
const measure paid{
    see_paid, cents, {.table = "Costs", .on = "paid_on", .adds = "amount", .where = {on_grant, no_indirect}}};
const measure indirect_base =
    by_date(see_indirect_base, "Costs", {on_grant, no_indirect, shown_in::only{"category", "equipment", false}});
const measure match_costs = by_date(see_match_costs, "Costs", {shown_in::only{"fund", "match"}});
const measure in_kind = by_date(see_in_kind, "In-kind", {}, "value");
const measure grant_budget = of_budget(see_budget<&budget_line::grant>, "grant");
const measure match_budget = of_budget(see_budget<&budget_line::match>, "match");
const measure payments = by_date(see_payments, "Payments");
const measure paid_back{see_paid_back,
                        cents,
                        {.table = "Payments",
                         .on = "date",
                         .adds = "amount",
                         .adds_too = "retained",
                         .where = {shown_in::only{"kind", "reimbursement"}}}};
const measure retained = by_date(see_retained, "Payments", {}, "retained");
const measure released = by_date(see_released, "Payments", {shown_in::only{"kind", "retainage"}});
const measure claimed = by_date(see_claimed, "Requests");
const measure obligations = by_date(see_obligations, "Obligations", {on_grant});
const measure income_earned = by_date(see_income<true, false>, "Program income", {shown_in::only{"kind", "earned"}});
const measure income_deducted = by_date(see_income<false, true>, "Program income",
                                        {shown_in::only{"kind", "spent"}, shown_in::only{"method", "deduction"}});
const measure income_added = by_date(see_income<false, false>, "Program income",
                                     {shown_in::only{"kind", "spent"}, shown_in::only{"method", "addition"}});

} // namespace tarewell::grant::measures
