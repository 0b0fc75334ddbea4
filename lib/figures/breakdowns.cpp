#include "figures/breakdowns.hpp"

#include "grant/account.hpp"

#include <algorithm>
#include <map>
#include <tuple>

namespace tarewell::figures {

using namespace records; // NOLINT
using quantity::span_of_days;

namespace {

day last_of_month(day any) {
    const date::year_month_day ymd{any};
    return day{ymd.year() / ymd.month() / date::last};
}

/// The last day on which film was handed in, moved, weighed, taken or rejected, or money spent.
day last_recorded(const season& of) {
    day last = day::min();
    const auto look_at = [&](const auto& rows) {
        for (const auto& each : rows)
            last = std::max(last, each.date);
    };
    look_at(of.receipts);
    look_at(of.bales);
    look_at(of.shipments);
    look_at(of.tickets);
    look_at(of.acceptances);
    look_at(of.rejects);
    look_at(of.costs);
    return last;
}

money_line& line_of(money_lines& all, const std::string& category) {
    for (auto& line : all.lines)
        if (line.category == category) return line;
    return all.lines.emplace_back(money_line{category, false, {}, {}, {}, {}, {}, {}});
}

} // namespace

std::vector<month_line> by_month(const season& of, const reconcile::reckoning& reckoned, const basis& on) {
    const auto over = [&](const char* figure, span_of_days days) { return weight_over(figure, days, of, reckoned); };
    std::vector<month_line> months;
    const date::year_month_day begins{std::min(of.the_award->begins, on.days.to)};
    day from{begins.year() / begins.month() / 1};
    const day last = on.period.is_quarter() ? on.days.to : std::clamp(last_recorded(of), from, on.days.to);
    while (from <= last) {
        const day to = std::min(last_of_month(from), on.days.to);
        const span_of_days counted{months.empty() ? day::min() : from, to};
        month_line line{{from, to},
                        over("diverted_weight", counted),
                        {},
                        over("bale_net_weight", counted),
                        over("bale_estimate", counted)};
        line.diverted_to_date = line.diverted + (months.empty() ? weight{} : months.back().diverted_to_date);
        line.diverted_tons = quantity::short_tons(line.diverted, of.the_award->unit);
        line.diverted_tons_to_date = quantity::short_tons(line.diverted_to_date, of.the_award->unit);
        months.push_back(line);
        from = to + date::days{1};
    }
    return months;
}

std::vector<cause_line> reject_causes(const season& of, const reconcile::reckoning& reckoned, span_of_days days) {
    std::map<std::string, cause_line> found;
    for (const auto& bundle : reckoned.bundles) {
        if (bundle.rejections.empty() || !days.holds(bundle.rejections.front().on)) continue;
        const auto& first = bundle.rejections.front();
        const auto& reason =
            first.by == kind::receipt ? of.receipts[first.index].reason : of.rejects[first.index].reason;
        ++found[reason].bundles;
    }
    for (const auto& each : reckoned.residues)
        if (days.holds(each.on)) found[of.rejects[each.reject].reason].residue += each.counted;
    std::vector<cause_line> lines;
    for (auto& [reason, line] : found) {
        line.reason = reason.empty() ? "not given" : reason;
        lines.push_back(std::move(line));
    }
    std::stable_sort(lines.begin(), lines.end(), [](const cause_line& a, const cause_line& b) {
        return std::tie(b.bundles, b.residue) < std::tie(a.bundles, a.residue);
    });
    return lines;
}

money_lines money_by_category(const season& of, const basis& on) {
    money_lines all;
    for (const auto& line : of.budget_on(on.days.to))
        all.lines.push_back({line.category, true, line.grant, {}, line.match, {}, {}, {}});
    for (const auto& cost : of.costs) {
        if (cost.date > on.days.to || (cost.fund == fund::grant && cost.category == "indirect")) continue;
        auto& line = line_of(all, cost.category);
        const bool on_grant = cost.fund == fund::grant;
        (on_grant ? line.grant_spent : line.match_given) += cost.amount;
        if (on.days.holds(cost.date)) (on_grant ? line.grant_in_quarter : line.match_in_quarter) += cost.amount;
    }
    const auto indirect = grant::indirect_through(of, on.days.to);
    const auto before = grant::indirect_through(of, on.days.from - date::days{1});
    if (indirect.count() != 0 || before.count() != 0) {
        auto& line = line_of(all, "indirect");
        line.grant_spent += indirect;
        line.grant_in_quarter += indirect - before;
    }
    const auto give = [&](money_line& to, day when, money amount) {
        if (when > on.days.to) return;
        to.match_given += amount;
        if (on.days.holds(when)) to.match_in_quarter += amount;
    };
    for (const auto& gift : of.gifts)
        give(gift.category.empty() ? all.unclassed : line_of(all, gift.category), gift.date, gift.value);
    for (const auto& each : of.incomes)
        if (!each.earned && each.method == income_method::match && each.cost.empty())
            give(all.unclassed, each.date, each.amount);
    all.unclassed.category = "without an object class";
    all.total.category = "total";
    for (const auto& line : all.lines) {
        all.total.grant_budget += line.grant_budget;
        all.total.grant_spent += line.grant_spent;
        all.total.match_budget += line.match_budget;
        all.total.match_given += line.match_given;
        all.total.grant_in_quarter += line.grant_in_quarter;
        all.total.match_in_quarter += line.match_in_quarter;
    }
    return all;
}

} // namespace tarewell::figures
