#include "grant/measures.hpp"

#include "grant/account.hpp"
#include "grant/financial.hpp"

#include <algorithm>
#include <set>

namespace tarewell::grant::measures {
namespace {

using namespace records; // NOLINT
using reconcile::reckoning;
using reconcile::see_measured;
using only = reconcile::shown_in::only;
using rows = decltype(measure::rows);

/// Rows of one kind, each by its date with what it adds; nothing where that is none.
template <kind Kind, auto Rows, auto Adds>
void see_each(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.*Rows)
        if (const std::optional<money> amount = Adds(each)) see({{Kind, each.entry, amount->count()}, each.date});
}
template <auto Is, class Row> std::optional<money> amount_if(const Row& each) {
    return Is(each) ? std::optional{each.amount} : std::nullopt;
}
template <auto Is> constexpr rows costs = see_each<kind::cost, &season::costs, amount_if<Is, cost>>;
template <auto Adds> constexpr rows payments_of = see_each<kind::payment, &season::payments, Adds>;
template <auto Is> constexpr rows incomes = see_each<kind::income, &season::incomes, amount_if<Is, income>>;

bool is_direct(const cost& each) { return each.fund == fund::grant && each.category != "indirect"; }

void see_paid(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.costs)
        if (is_direct(each) && each.paid_on) see({{kind::cost, each.entry, each.amount.count()}, *each.paid_on});
}

template <money budget_line::*Column>
void see_budget(const season& s, const reckoning&, day last, const see_measured& see) {
    for (const auto& line : s.budget_on(last)) {
        const bool amended = std::any_of(s.rebudgets.begin(), s.rebudgets.end(),
                                         [&](const rebudget& each) { return each.entry == line.entry; });
        see({{amended ? kind::rebudget : kind::budget, line.entry, (line.*Column).count()}});
    }
}

void see_claimed(const season& s, const reckoning&, day, const see_measured& see) {
    std::set<std::string> seen;
    for (const auto& each : s.requests) {
        const auto indirect = seen.insert(each.request).second ? each.indirect : money{};
        see({{kind::request, each.entry, (claimed_of(s, each) + indirect).count()}, each.date});
        see({{kind::cost, s.costs[each.cost].entry, std::nullopt}, each.date});
    }
}

void see_obligations(const season& s, const reckoning&, day, const see_measured& see) {
    for (const auto& each : s.obligations)
        if (each.fund == fund::grant) see({{kind::obligation, each.entry, each.amount.count()}, each.date});
    for (const auto& each : s.liquidations)
        if (s.obligations[each.obligation].fund == fund::grant)
            see({{kind::liquidation, each.entry, -each.amount.count()}, counted_on(s, each)});
}

constexpr std::int64_t cents = 100;
constexpr only on_grant{"fund", "grant"}, no_indirect{"category", "indirect", false};
constexpr only reimbursed{"kind", "reimbursement"}, spent{"kind", "spent"};

constexpr measure by_date(rows see, std::string_view table, std::array<only, 3> where = {},
                          std::string_view adds = "amount") {
    return {see, cents, {.table = table, .on = "date", .adds = adds, .where = where}};
}

} // namespace

const measure direct = by_date(costs<is_direct>, "Costs", {on_grant, no_indirect});
const measure paid{
    see_paid, cents, {.table = "Costs", .on = "paid_on", .adds = "amount", .where = {on_grant, no_indirect}}};
const measure indirect_base = by_date(costs<is_in_base>, "Costs", {only{"base", "in"}});
const measure match_costs =
    by_date(costs<[](const cost& each) { return each.fund == fund::match; }>, "Costs", {only{"fund", "match"}});
const measure in_kind =
    by_date(see_each<kind::inkind, &season::gifts, [](const inkind& each) { return std::optional{each.value}; }>,
            "In-kind", {}, "value");
const measure grant_budget{see_budget<&budget_line::grant>, cents, {.table = "Budget", .adds = "grant"}};
const measure match_budget{see_budget<&budget_line::match>, cents, {.table = "Budget", .adds = "match"}};
const measure payments =
    by_date(payments_of<[](const payment& each) { return std::optional{each.amount}; }>, "Payments");
const measure paid_back{
    payments_of<[](const payment& each) {
        return each.kind == payment_kind::reimbursement ? std::optional{each.amount + each.retained} : std::nullopt;
    }>,
    cents,
    {.table = "Payments", .on = "date", .adds = "amount", .adds_too = "retained", .where = {reimbursed}}};
const measure retained = by_date(payments_of<[](const payment& each) {
                                     return each.retained == money{} ? std::nullopt : std::optional{each.retained};
                                 }>,
                                 "Payments", {}, "retained");
const measure released =
    by_date(payments_of<amount_if<[](const payment& each) { return each.kind == payment_kind::retainage; }, payment>>,
            "Payments", {only{"kind", "retainage"}});
const measure claimed = by_date(see_claimed, "Requests");
const measure obligations{
    see_obligations, cents, {.table = "Obligations", .on = "counted_on", .adds = "amount", .where = {on_grant}}};
const measure income_earned =
    by_date(incomes<[](const income& each) { return each.earned; }>, "Program income", {only{"kind", "earned"}});
const measure income_deducted =
    by_date(incomes<[](const income& each) { return !each.earned && each.method == income_method::deduction; }>,
            "Program income", {spent, only{"method", "deduction"}});
const measure income_added =
    by_date(incomes<[](const income& each) { return !each.earned && each.method == income_method::addition; }>,
            "Program income", {spent, only{"method", "addition"}});
const measure income_matched =
    by_date(incomes<[](const income& each) {
                return !each.earned && each.method == income_method::match && each.cost.empty();
            }>,
            "Program income", {spent, only{"method", "match"}});

} // namespace tarewell::grant::measures
