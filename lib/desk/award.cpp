#include "desk/award.hpp"

#include "grant/account.hpp"
#include "grant/financial.hpp"
#include "grant/reporting_calendar.hpp"
#include "reconcile/usual_rates.hpp"

#include <algorithm>
#include <map>

namespace tarewell::desk {
namespace {

using quantity::day;
using quantity::money;
using quantity::text_of;

std::string days_in_words(std::int64_t days) { return counted(static_cast<std::size_t>(days), "day", "days"); }

struct report_state {
    std::string filed, words;
    bool late = false;
};

report_state state_of(const grant::due_report& report, day on, const ledger::ledger_file& file) {
    const auto left = (report.due - on).count();
    if (report.filed != nullptr) {
        const auto filed = file.head_at(report.filed->entry).at.substr(0, 10);
        const auto late = (quantity::day_of(filed) - report.due).count();
        return {filed, late > 0 ? fmt::format("closed {} late", days_in_words(late)) : "closed in time"};
    }
    if (on > report.due) return {{}, days_in_words(-left) + " overdue", true};
    return {{}, on <= report.period.to ? "period open" : "due in " + days_in_words(left)};
}

struct spent {
    money grant, match;
};

std::map<std::string, spent> spent_by_category(const records::season& season, day on) {
    std::map<std::string, spent> sums;
    for (const auto& cost : season.costs)
        if (cost.date <= on && (cost.fund == records::fund::match || cost.category != "indirect"))
            (cost.fund == records::fund::grant ? sums[cost.category].grant : sums[cost.category].match) += cost.amount;
    for (const auto& gift : season.gifts)
        if (gift.date <= on) sums[gift.category].match += gift.value;
    for (const auto& each : season.incomes)
        if (each.date <= on && !each.earned && each.method == records::income_method::match && each.cost.empty())
            sums[""].match += each.amount;
    const auto indirect = grant::indirect_through(season, on).count();
    if (indirect != 0) sums["indirect"].grant += money{indirect};
    return sums;
}

} // namespace

answer award_calendar(const season_view& seen, day on) {
    static_cast<void>(seen.award());
    answer made;
    table reports{{"report", "from", "to", "due", "closed on=closed_on", "on " + text_of(on) + "=state", "=late"}};
    for (const auto& each : grant::reporting_calendar(seen.season, on)) {
        const auto state = state_of(each, on, seen.file);
        made.found = made.found || state.late;
        reports.add({each.name, each.period.from, each.period.to, each.due,
                     cell{state.filed, state.filed.empty() ? value{} : value{state.filed}}, state.words, state.late});
    }
    made.data["on"] = on;
    made.tell("reports", reports);
    const auto kept = grant::records_kept_until(seen.season, on);
    made.data["records_kept_until"] = kept;
    made.say("\nkeep all records through {} at least; the award's own terms govern\n", text_of(kept));
    return made;
}

answer award_budget(const season_view& seen, day on) {
    static_cast<void>(seen.award());
    auto sums = spent_by_category(seen.season, on);
    const auto unclassed = sums[""].match;
    sums.erase("");
    auto lines = seen.season.budget_on(on);
    for (const auto& [category, each] : sums)
        if (std::none_of(lines.begin(), lines.end(), [&](const auto& line) { return line.category == category; }))
            lines.push_back({{}, category, {}, {}});
    const bool none = seen.season.budget.empty();
    table shown{
        {"category", "grant", "spent=grant_spent", "balance=grant_left", "match", "contributed=match_spent", " =over"}};
    for (const auto& line : lines) {
        const auto found = sums.find(line.category);
        const auto of = found == sums.end() ? spent{} : found->second;
        const bool over = !none && (of.grant > line.grant || of.match > line.match);
        shown.add({line.category, line.grant, of.grant, line.grant - of.grant, line.match, of.match,
                   cell{over ? "over" : "", over}});
    }
    const auto moves = grant::budget_moves_through(seen.season, on);
    const double share = moves.share();
    answer made;
    made.data["on"] = on;
    made.tell("lines", shown);
    made.data["match_without_class"] = unclassed;
    if (unclassed.count() != 0) made.say("\nmatch contributed without an object class: {}\n", text_of(unclassed));
    made.data["moves"] = {
        {"moved", moves.moved}, {"total", moves.total}, {"share", share}, {"past_limit", moves.past_limit}};
    if (none)
        made.say("\nno budget was imported yet (budget.csv)\n");
    else
        made.say("\nmoved between lines since the award, or spent beyond one: {} of {} ({:.1f} %){}\n",
                 text_of(moves.moved), text_of(moves.total), 100 * share,
                 moves.past_limit ? "; past the share that may need the agency's prior approval" : "");
    return made;
}

costs_open open_costs(const records::season& of, day on) {
    std::vector<bool> claimed(of.costs.size());
    for (const auto& each : grant::requests_through(of, on))
        for (const auto place : each.costs)
            claimed[place] = true;
    costs_open open;
    for (std::size_t i = 0; i < claimed.size(); ++i) {
        const auto& cost = of.costs[i];
        if (claimed[i] || cost.fund != records::fund::grant || cost.date > on || cost.category == "indirect") continue;
        const auto left = cost.amount - grant::paid_from_income(of, cost, on);
        if (left.count() == 0) continue;
        open.amount += left;
        open.costs.push_back(i);
    }
    return open;
}

answer award_requests(const season_view& seen, day on) {
    static_cast<void>(seen.award());
    const auto& costs = seen.season.costs;
    table requests{{"request", "date", "costs", "direct", "indirect", "claimed", "paid", "withheld=retained", "open"}};
    for (const auto& each : grant::requests_through(seen.season, on)) {
        auto ids = value::array();
        for (const auto place : each.costs)
            ids.push_back(costs[place].id);
        requests.add({each.request, each.date, cell{std::to_string(each.costs.size()), std::move(ids)}, each.direct,
                      each.indirect, each.claimed(), each.paid, each.retained, each.open()});
    }
    const auto left = open_costs(seen.season, on);
    auto ids = value::array();
    std::string names;
    for (const auto place : left.costs) {
        ids.push_back(costs[place].id);
        names += (names.empty() ? "" : ", ") + costs[place].id;
    }
    answer made;
    made.data["on"] = on;
    made.tell("requests", requests);
    made.data["not_claimed"] = std::move(ids);
    made.data["not_claimed_amount"] = left.amount;
    if (!names.empty()) made.say("\nnot claimed yet: ${} in {}\n", text_of(left.amount), names);
    return made;
}

answer award_rates(const season_view& seen, day on) {
    table rates{{"kind", "what", "from", "rate", "source", "=yours"}};
    for (const auto& each : seen.season.rates)
        if (each.begins <= on)
            rates.add({each.kind, each.what.empty() ? each.id : each.what, each.begins,
                       quantity::shortest_text(each.value), each.source, true});
    for (const char* kind : {"hours", "miles"})
        if (const auto usual = reconcile::usual_rate_on(kind, on))
            rates.add({kind, "(national)", "", quantity::shortest_text(usual->value), usual->source, false});
    answer made;
    made.tell(rates);
    return made;
}

} // namespace tarewell::desk
