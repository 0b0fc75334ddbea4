#include "context.hpp"
#include "grant/account.hpp"
#include "grant/financial.hpp"
#include "grant/reporting_calendar.hpp"
#include "reconcile/usual_rates.hpp"
#include "season_view.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <map>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;
using quantity::day;
using quantity::text_of;

struct award_options {
    std::string on;
    bool json = false;
};

day today(const context& with) { return quantity::day_of(with.around.now().substr(0, 10)); }

/// The day asked for, or today.
day asked_day(const award_options& how, const context& with) {
    if (how.on.empty()) return today(with);
    const auto on = quantity::read_day(how.on);
    if (!on) throw ledger::input_error(fmt::format("--on '{}' is no day; write it as 2026-07-30", how.on));
    return *on;
}

std::string days_in_words(std::int64_t days) { return fmt::format("{} {}", days, days == 1 ? "day" : "days"); }

struct report_line {
    std::string name, from, to, due, filed, state;
    bool late = false;
};

report_line line_of(const grant::due_report& report, day on, const ledger::ledger_file& file) {
    report_line line{report.name, text_of(report.period.from), text_of(report.period.to), text_of(report.due), "", "",
                     false};
    if (report.filed != nullptr) {
        line.filed = file.head_at(report.filed->entry).at.substr(0, 10);
        const auto days = (quantity::day_of(line.filed) - report.due).count();
        line.state = days > 0 ? fmt::format("closed {} late", days_in_words(days)) : "closed in time";
    } else if (report.name == "final" || report.name.starts_with("annual")) {
        line.state = on > report.due          ? "was due"
                     : report.period.to >= on ? "not over"
                                              : "due in " + days_in_words((report.due - on).count());
    } else if (on > report.due) {
        line.state = "late by " + days_in_words((on - report.due).count());
        line.late = true;
    } else if (on <= report.period.to) {
        line.state = "not over";
    } else {
        line.state = "due in " + days_in_words((report.due - on).count());
    }
    return line;
}

void run_calendar(const award_options& how, context& with) {
    const auto on = asked_day(how, with);
    const auto seen = view(with);
    static_cast<void>(seen.award());
    json list = json::array();
    text_table table{{"report", "from", "to", "due", "closed on", "on " + text_of(on)}};
    for (const auto& each : grant::reporting_calendar(seen.season)) {
        const auto line = line_of(each, on, seen.file);
        if (line.late) with.exit = findings;
        table.add({line.name, line.from, line.to, line.due, line.filed, line.state});
        list.push_back({{"report", line.name},
                        {"from", line.from},
                        {"to", line.to},
                        {"due", line.due},
                        {"closed_on", line.filed.empty() ? json(nullptr) : json(line.filed)},
                        {"state", line.state},
                        {"late", line.late}});
    }
    const auto kept = text_of(grant::records_kept_until(seen.season));
    if (how.json) {
        with.out << json{{"on", text_of(on)}, {"reports", std::move(list)}, {"records_kept_until", kept}}.dump(2)
                 << '\n';
        return;
    }
    table.print(with.out);
    with.out << fmt::format("\nkeep all records through {} at least; the award's own terms win\n", kept);
}

struct spent_on_line {
    quantity::money grant, match;
};

std::map<std::string, spent_on_line> spent_by_category(const ledger::season& season, day on) {
    std::map<std::string, spent_on_line> spent;
    for (const auto& cost : season.costs)
        if (cost.date <= on && (cost.fund == ledger::fund::match || cost.category != "indirect"))
            (cost.fund == ledger::fund::grant ? spent[cost.category].grant : spent[cost.category].match) += cost.amount;
    const auto indirect = grant::indirect_through(season, on).count();
    if (indirect != 0) spent["indirect"].grant += quantity::money{indirect};
    return spent;
}

void run_budget(const award_options& how, context& with) {
    const auto on = asked_day(how, with);
    const auto seen = view(with);
    static_cast<void>(seen.award());
    auto spent = spent_by_category(seen.season, on);
    auto lines = seen.season.budget_on(on);
    for (const auto& [category, sums] : spent)
        if (std::none_of(lines.begin(), lines.end(), [&](const auto& line) { return line.category == category; }))
            lines.push_back({{}, category, {}, {}});
    text_table table{{"category", "grant", "spent", "left", "match", "given in cash", ""}};
    json list = json::array();
    for (const auto& line : lines) {
        const auto& sums = spent[line.category];
        const bool over = !seen.season.budget.empty() && (sums.grant > line.grant || sums.match > line.match);
        table.add({line.category, text_of(line.grant), text_of(sums.grant), text_of(line.grant - sums.grant),
                   text_of(line.match), text_of(sums.match), over ? "over" : ""});
        list.push_back({{"category", line.category},
                        {"grant", text_of(line.grant)},
                        {"grant_spent", text_of(sums.grant)},
                        {"grant_left", text_of(line.grant - sums.grant)},
                        {"match", text_of(line.match)},
                        {"match_spent", text_of(sums.match)},
                        {"over", over}});
    }
    const auto moves = grant::budget_moves_through(seen.season, on);
    const double share =
        moves.total.count() > 0 ? quantity::nearest_double(moves.moved.count(), moves.total.count()) : 0;
    if (how.json) {
        with.out << json{{"on", text_of(on)},
                         {"lines", std::move(list)},
                         {"moves",
                          {{"moved", text_of(moves.moved)},
                           {"total", text_of(moves.total)},
                           {"share", share},
                           {"past_limit", moves.past_limit}}}}
                        .dump(2)
                 << '\n';
        return;
    }
    table.print(with.out);
    if (seen.season.budget.empty()) {
        with.out << "\nno budget was taken in yet (budget.csv)\n";
        return;
    }
    with.out << fmt::format("\nmoved between lines since the award: {} of {} ({:.1f} %){}\n", text_of(moves.moved),
                            text_of(moves.total), 100 * share,
                            moves.past_limit ? "; past the share that may need the agency's leave" : "");
}

void run_requests(const award_options& how, context& with) {
    const auto on = asked_day(how, with);
    const auto seen = view(with);
    static_cast<void>(seen.award());
    text_table table{{"request", "date", "costs", "direct", "indirect", "claimed", "paid", "retained", "open"}};
    json list = json::array();
    std::vector<bool> claimed(seen.season.costs.size());
    for (const auto& each : grant::requests_through(seen.season, on)) {
        json costs = json::array();
        for (const auto place : each.costs) {
            claimed[place] = true;
            costs.push_back(seen.season.costs[place].id);
        }
        table.add({each.request, text_of(each.date), std::to_string(each.costs.size()), text_of(each.direct),
                   text_of(each.indirect), text_of(each.claimed()), text_of(each.paid), text_of(each.retained),
                   text_of(each.open())});
        list.push_back({{"request", each.request},
                        {"date", text_of(each.date)},
                        {"costs", std::move(costs)},
                        {"direct", text_of(each.direct)},
                        {"indirect", text_of(each.indirect)},
                        {"claimed", text_of(each.claimed())},
                        {"paid", text_of(each.paid)},
                        {"retained", text_of(each.retained)},
                        {"open", text_of(each.open())}});
    }
    quantity::money direct_left;
    json left = json::array();
    std::string names;
    for (std::size_t i = 0; i < claimed.size(); ++i) {
        const auto& cost = seen.season.costs[i];
        if (claimed[i] || cost.fund != ledger::fund::grant || cost.date > on || cost.category == "indirect") continue;
        direct_left += cost.amount;
        left.push_back(cost.id);
        names += (names.empty() ? "" : ", ") + cost.id;
    }
    if (how.json) {
        with.out << json{{"on", text_of(on)},
                         {"requests", std::move(list)},
                         {"not_claimed", std::move(left)},
                         {"not_claimed_amount", text_of(direct_left)}}
                        .dump(2)
                 << '\n';
        return;
    }
    table.print(with.out);
    if (!names.empty()) with.out << fmt::format("\nnot claimed yet: ${} in {}\n", text_of(direct_left), names);
}

void run_rates(const award_options& how, context& with) {
    const auto on = asked_day(how, with);
    const auto seen = view(with);
    text_table table{{"kind", "what", "from", "rate", "source"}};
    json list = json::array();
    const auto add = [&](std::string_view kind, const std::string& what, const std::string& from,
                         const std::string& value, std::string_view source, bool yours) {
        table.add({std::string{kind}, what, from, value, std::string{source}});
        list.push_back(
            {{"kind", kind}, {"what", what}, {"from", from}, {"rate", value}, {"source", source}, {"yours", yours}});
    };
    for (const auto& each : seen.season.rates)
        if (each.begins <= on)
            add(each.kind, each.what.empty() ? each.id : each.what, text_of(each.begins),
                quantity::shortest_text(each.value), each.source, true);
    for (const char* kind : {"hours", "miles"})
        if (const auto usual = reconcile::usual_rate_on(kind, on))
            add(kind, "(national)", "", quantity::shortest_text(usual->value), usual->source, false);
    if (how.json)
        with.out << list.dump(2) << '\n';
    else
        table.print(with.out);
}

} // namespace

void add_award(const command& program, context& with) {
    auto sub = program.add("award", "the award's reports and money: what is due, budget lines, requests, rates");
    sub.wants_subcommand();
    const auto add = [&](const char* name, const char* what, void (*run)(const award_options&, context&)) {
        auto asks = sub.add(name, what);
        auto& how = program.keep<award_options>();
        asks.value("--on", how.on, "as of this day (today when not given)");
        asks.flag("--json", how.json, "for machines");
        asks.does([&how, run, &with] { run(how, with); });
    };
    add("calendar", "reports with their due dates, and how long to keep records (exit 1 when one is late)",
        run_calendar);
    add("budget", "budget lines against what was spent, and the running share of moves between them", run_budget);
    add("requests", "reimbursement requests: claimed, paid, retained, open; and costs not claimed yet", run_requests);
    add("rates", "your table of in-kind rates, and national values to hold against it", run_rates);
}

} // namespace tarewell::cli
