// What a reviewer would ask about the money.
#include "quantity/dollars.hpp"
#include "reconcile/flag_maker.hpp"
#include "reconcile/usual_rates.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cctype>
#include <map>
#include <set>
#include <tuple>

namespace tarewell::reconcile {

using quantity::dollars;

using namespace records; // NOLINT

namespace {

const char* name_of(fund of) { return of == fund::grant ? "grant" : "match"; }

std::string lower(std::string text) {
    for (auto& c : text)
        c = static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return text;
}

/// Says federal, and not non-federal.
bool is_federal(const std::string& source) {
    const auto text = lower(source);
    const auto at = text.find("federal");
    return at != std::string::npos && (at == 0 || text.compare(at < 4 ? 0 : at - 4, at < 4 ? at : 4, "non-") != 0) &&
           text.find("nonfederal") == std::string::npos;
}

} // namespace

void flag_maker::look_at_money() {
    look_at_costs();
    look_at_budget_lines();
    look_at_sources();
    look_at_twins();
    look_at_costs_twice();
    look_at_hours();
    look_at_rates();
    look_at_requests();
    look_at_income();
    look_at_retainage();
    look_at_order_of_money();
    look_at_agency();
}

void flag_maker::look_at_costs() {
    std::set<std::string> budgeted;
    for (const auto& line : s_.budget)
        budgeted.insert(line.category);
    for (const auto& line : s_.rebudgets)
        budgeted.insert(line.category);
    for (const auto& cost : s_.costs) {
        const std::vector<row_ref> row{{kind::cost, cost.entry}};
        if (!s_.budget.empty() && !budgeted.contains(cost.category))
            raise("no-budget-line", cost.id, cost.date, row,
                  fmt::format("Cost {} is {}, for which the budget has no line.", cost.id, cost.category));
        if (cost.category == "indirect" && cost.fund == fund::grant)
            raise("indirect-not-counted", cost.id, cost.date, row,
                  fmt::format("Cost {} of ${} is indirect and not direct, and the award has no indirect percent: it "
                              "is in no figure. Give the award its percent, or the cost a direct category.",
                              cost.id, quantity::text_of(cost.amount)));
        if (cost.document.empty() && !attached_.contains("cost " + cost.id))
            raise("no-document", cost.id, cost.date, row,
                  fmt::format("Cost {} of {} names no document and has none attached.", cost.id, dollars(cost.amount)));
    }
    for (const auto& gift : s_.gifts)
        if (gift.kind == "hours" && !gift.has_document && !attached_.contains("inkind " + gift.id))
            raise("hours-not-signed", gift.id, gift.date, {{kind::inkind, gift.entry}},
                  fmt::format("In-kind {}: {} hours of {} without a signed sheet.", gift.id,
                              quantity::shortest_text(gift.quantity), gift.giver));
}

/// The cost with which a category passes its budget line, on the grant and on match apart.
void flag_maker::look_at_budget_lines() {
    if (s_.budget.empty()) return;
    std::vector<const cost*> by_date;
    for (const auto& each : s_.costs)
        by_date.push_back(&each);
    std::stable_sort(by_date.begin(), by_date.end(), [](const cost* a, const cost* b) {
        return std::tie(a->date, a->order) < std::tie(b->date, b->order);
    });
    std::map<std::pair<std::string, fund>, quantity::money> spent;
    std::set<std::pair<std::string, fund>> over;
    for (const auto* each : by_date) {
        const std::pair key{each->category, each->fund};
        spent[key] += each->amount;
        for (const auto& line : s_.budget_on(each->date)) {
            if (line.category != each->category) continue;
            const auto budgeted = each->fund == fund::grant ? line.grant : line.match;
            if (spent[key] <= budgeted) {
                over.erase(key);
            } else if (over.insert(key).second) {
                raise("over-budget", each->id, each->date, {{kind::cost, each->entry}},
                      fmt::format("With cost {} the {} costs in {} come to {}; the budget has {}.", each->id,
                                  name_of(each->fund), each->category, dollars(spent[key]), dollars(budgeted)));
            }
        }
    }
}

/// Match from a source that also pays on the grant, or that says it is federal.
void flag_maker::look_at_sources() {
    std::set<std::string> of_grant;
    for (const auto& each : s_.costs)
        if (each.fund == fund::grant && !each.source.empty()) of_grant.insert(each.source);
    const auto look = [&](kind which, entry_no entry, const std::string& id, day on, const std::string& source) {
        if (source.empty() || (!of_grant.contains(source) && !is_federal(source))) return;
        raise("match-source", id, on, {{which, entry}},
              fmt::format("The match of {} {} comes from '{}', {}; such money seldom counts as match.",
                          info(which).name, id, source,
                          of_grant.contains(source) ? "which also pays costs on the grant" : "which is federal"));
    };
    for (const auto& each : s_.costs)
        if (each.fund == fund::match) look(kind::cost, each.entry, each.id, each.date, each.source);
    for (const auto& each : s_.gifts)
        look(kind::inkind, each.entry, each.id, each.date, each.source);
}

/// The same gift or cost counted as match and counted once more.
void flag_maker::look_at_twins() {
    std::map<std::tuple<day, std::string, std::string, std::string>, const inkind*> gifts;
    for (const auto& each : s_.gifts) {
        const auto key = std::tuple{each.date, each.kind, each.giver, quantity::shortest_text(each.quantity)};
        const auto [first, fresh] = gifts.emplace(key, &each);
        if (!fresh)
            raise("match-twice", each.id, each.date, {{kind::inkind, each.entry}, {kind::inkind, first->second->entry}},
                  fmt::format("In-kind {} says what {} says: {} {} of {} on {}.", each.id, first->second->id,
                              quantity::shortest_text(each.quantity), each.kind, each.giver,
                              quantity::text_of(each.date)));
    }
    std::map<std::tuple<day, std::string, std::int64_t>, const cost*> costs;
    const auto key_of_cost = [](const cost& each) {
        return std::tuple{each.date, each.description, each.amount.count()};
    };
    for (const auto& each : s_.costs)
        if (each.fund == fund::grant) costs.emplace(key_of_cost(each), &each);
    for (const auto& each : s_.costs) {
        if (each.fund != fund::match) continue;
        const auto [first, fresh] = costs.emplace(key_of_cost(each), &each);
        if (!fresh)
            raise("match-twice", each.id, each.date, {{kind::cost, each.entry}, {kind::cost, first->second->entry}},
                  fmt::format("Cost {} on match says what cost {} on {} says: {} for {}.", each.id, first->second->id,
                              name_of(first->second->fund), dollars(each.amount), each.description));
    }
}

/// The same invoice recorded twice: one payee, document and amount.
void flag_maker::look_at_costs_twice() {
    std::map<std::tuple<std::string, std::string, std::int64_t>, const cost*> known;
    for (const auto& each : s_.costs) {
        if (each.payee.empty() || each.document.empty()) continue;
        const auto [first, fresh] =
            known.emplace(std::tuple{lower(each.payee), lower(each.document), each.amount.count()}, &each);
        if (!fresh)
            raise("cost-twice", each.id, each.date, {{kind::cost, each.entry}, {kind::cost, first->second->entry}},
                  fmt::format("Cost {} says what cost {} says: {} to {} by document {}.", each.id, first->second->id,
                              dollars(each.amount), each.payee, each.document));
    }
}

/// More hours of one person than a day has.
void flag_maker::look_at_hours() {
    struct hours_of_day {
        quantity::wide billionths = 0;
        std::vector<row_ref> rows;
        std::string last;
    };
    std::map<std::pair<std::string, day>, hours_of_day> sums;
    for (const auto& each : s_.gifts) {
        if (each.kind != "hours") continue;
        auto& sum = sums[{each.giver, each.date}];
        sum.billionths += quantity::wide{each.quantity.mantissa} * quantity::power_of_ten(9 - each.quantity.scale);
        sum.rows.push_back({kind::inkind, each.entry});
        sum.last = each.id;
    }
    for (const auto& [who, sum] : sums)
        if (sum.billionths > 24 * quantity::power_of_ten(9))
            raise("hours-in-day", sum.last, who.second, sum.rows,
                  fmt::format("{} gave {} hours on {}, and a day has 24; record each day, or each person, by itself.",
                              who.first, quantity::shortest_text({static_cast<std::int64_t>(sum.billionths), 9}),
                              quantity::text_of(who.second)));
}

/// A gift at a rate above the highest in the coordinator's table, or without one there above the usual rate.
void flag_maker::look_at_rates() {
    for (const auto& gift : s_.gifts) {
        std::map<std::string, const rate*> in_force; // by what it is for: the latest
        for (const auto& each : s_.rates) {
            if (each.kind != gift.kind || each.begins > gift.date) continue;
            auto& known = in_force[each.what];
            if (known == nullptr || known->begins <= each.begins) known = &each;
        }
        decimal highest;
        std::string source;
        for (const auto& [what, each] : in_force)
            if (source.empty() || is_above(each->value, highest))
                highest = each->value, source = each->id + ", " + each->source;
        if (source.empty()) {
            const auto usual = usual_rate_on(gift.kind, gift.date);
            if (!usual) continue;
            highest = usual->value, source = std::string{usual->source} + "; your table (rates) has none";
        }
        if (is_above(gift.rate, highest))
            raise("rate-above-table", gift.id, gift.date, {{kind::inkind, gift.entry}},
                  fmt::format("In-kind {} counts {} at {}; the highest rate is {} ({}).", gift.id, gift.kind,
                              quantity::shortest_text(gift.rate), quantity::shortest_text(highest), source));
    }
}

/// More paid and retained of a request than was claimed in it.
void flag_maker::look_at_requests() {
    std::map<std::string, quantity::money> left;
    for (const auto& each : s_.requests) {
        const auto [known, fresh] = left.emplace(each.request, each.indirect);
        known->second += s_.costs[each.cost].amount;
    }
    for (const auto& each : s_.payments) {
        if (each.kind != payment_kind::reimbursement) continue;
        auto& open = left[each.request];
        open -= each.amount + each.retained;
        if (open.count() < 0 && (each.amount + each.retained).count() > 0)
            raise("request-overpaid", each.id, each.date, {{kind::payment, each.entry}},
                  fmt::format("Payment {} pays request {} by {} more than was claimed in it.", each.id, each.request,
                              dollars(-open)));
    }
}

/// More retainage let go than was retained by then; on one day what was retained comes first.
void flag_maker::look_at_retainage() {
    std::vector<const payment*> by_date;
    for (const auto& each : s_.payments)
        by_date.push_back(&each);
    const auto lets_go = [](const payment* each) { return each->kind == payment_kind::retainage; };
    std::stable_sort(by_date.begin(), by_date.end(), [&](const payment* a, const payment* b) {
        return std::tuple{a->date, lets_go(a), a->order} < std::tuple{b->date, lets_go(b), b->order};
    });
    quantity::money kept;
    for (const auto* each : by_date) {
        kept += each->retained;
        if (!lets_go(each)) continue;
        kept -= each->amount;
        if (kept.count() < 0)
            raise("retainage-overpaid", each->id, each->date, {{kind::payment, each->entry}},
                  fmt::format("Payment {} releases {} more than the agency had withheld.", each->id, dollars(-kept)));
    }
}

/// Paper whose days cannot be so: a request before its cost was incurred, a liquidation before its obligation.
void flag_maker::look_at_order_of_money() {
    for (const auto& each : s_.requests) {
        const auto& cost = s_.costs[each.cost];
        if (each.date < cost.date)
            raise("money-out-of-order", each.request, each.date,
                  {{kind::request, each.entry}, {kind::cost, cost.entry}},
                  fmt::format("Request {} of {} claims cost {}, incurred on {}.", each.request,
                              quantity::text_of(each.date), cost.id, quantity::text_of(cost.date)));
    }
    for (const auto& each : s_.liquidations) {
        const auto& owed = s_.obligations[each.obligation];
        if (each.date < owed.date)
            raise("money-out-of-order", each.id, each.date,
                  {{kind::liquidation, each.entry}, {kind::obligation, owed.entry}},
                  fmt::format(
                      "Liquidation {} of {} is dated before obligation {}, {}; until then the obligations open are "
                      "too few.",
                      each.id, quantity::text_of(each.date), owed.id, quantity::text_of(owed.date)));
    }
}

/// More program income spent than was earned by then.
void flag_maker::look_at_income() {
    std::vector<const income*> by_date;
    for (const auto& each : s_.incomes)
        by_date.push_back(&each);
    // On one day what was earned comes first.
    std::stable_sort(by_date.begin(), by_date.end(), [](const income* a, const income* b) {
        return std::tuple{a->date, !a->earned, a->order} < std::tuple{b->date, !b->earned, b->order};
    });
    quantity::money left;
    for (const auto* each : by_date) {
        if (each->earned) {
            left += each->amount;
            continue;
        }
        left -= each->amount;
        if (left.count() < 0)
            raise("income-overspent", each->id, each->date, {{kind::income, each->entry}},
                  fmt::format("With {} the program income spent passes what was earned by {}.", each->id,
                              dollars(-left)));
    }
}

} // namespace tarewell::reconcile
