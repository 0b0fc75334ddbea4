// Reports, what would stop them, and money that could be asked for.
#include "desk/due_groups.hpp"

#include "desk/award.hpp"
#include "desk/next_id.hpp"
#include "figures/flags.hpp"
#include "grant/reporting_calendar.hpp"

#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using quantity::text_of;

/// The command that mends the record behind a flag.
std::string mending(const season_view& seen, const reconcile::flag& of) {
    std::string command;
    for (const auto& row : of.rows)
        if (command.empty())
            seen.file.with_entry(row.which, row.entry, [&](const ledger::stored_row& stored) {
                command = fmt::format("tarewell correct {} {} --COLUMN VALUE --why TEXT", info(row.which).name,
                                      key_for_people(stored.values));
            });
    return command.empty() ? fmt::format("tarewell flags --code {}", of.code) : command;
}

/// The period that a report of the calendar is closed as: "annual 2026" is the year 2026.
std::string closed_as(const std::string& report) {
    constexpr std::string_view annual = "annual ";
    return report.starts_with(annual) ? report.substr(annual.size()) : report;
}

} // namespace

due_group reports_due(const season_view& seen, day on) {
    due_group group{"reports", "Reports due", {}};
    for (const auto& each : grant::reporting_calendar(seen.season, on)) {
        const auto left = (each.due - on).count();
        if (each.filed != nullptr || each.period.to >= on) continue;
        const auto when =
            left < 0 ? fmt::format("{} overdue", days_in_words(-left)) : fmt::format("due in {}", days_in_words(left));
        group.items.push_back(
            {fmt::format("Report {}, {} to {}: due {}, {}.", each.name, text_of(each.period.from),
                         text_of(each.period.to), text_of(each.due), when),
             fmt::format("tarewell quarter close {} --prepared-by NAME --reviewed-by NAME --certified-by NAME",
                         closed_as(each.name)),
             {{"report", each.name}, {"due", each.due}, {"days_left", left}, {"late", left < 0}}});
    }
    return group;
}

due_group doubts_that_block(const season_view& seen) {
    due_group group{"doubts", "Doubts that block closing", {}};
    const auto calendar = seen.award().calendar();
    for (const auto& each : figures::flags_of(seen.season, seen.reckoning)) {
        if (!reconcile::blocks_closing(each.code)) continue;
        const auto quarter = calendar.holding(each.on);
        if (seen.season.closing_of(quarter) != nullptr) continue;
        group.items.push_back({fmt::format("{} ({}, {})", each.sentence, each.code, text_of(quarter)),
                               mending(seen, each),
                               {{"code", each.code}, {"subject", each.subject}, {"quarter", text_of(quarter)}}});
    }
    return group;
}

due_group costs_not_claimed(const season_view& seen, day on) {
    due_group group{"costs", "Costs on the grant that no request claims", {}};
    const auto open = open_costs(seen.season, on);
    if (open.costs.empty()) return group;
    std::vector<std::string> ids;
    for (const auto place : open.costs)
        ids.push_back(seen.season.costs[place].id);
    constexpr std::size_t enough = 8;
    const std::vector<std::string> first{ids.begin(),
                                         ids.begin() + static_cast<std::ptrdiff_t>(std::min(ids.size(), enough))};
    group.items.push_back({fmt::format("${} in {}: {}{}.", text_of(open.amount), counted(ids.size(), "cost", "costs"),
                                       fmt::join(first, ", "),
                                       ids.size() > enough ? fmt::format(" and {} more", ids.size() - enough) : ""),
                           fmt::format("tarewell record request --request {} --date {} --cost {} --indirect AMOUNT",
                                       next_id(seen.file, kind::request, "RQ1"), text_of(on), ids.front()),
                           {{"amount", open.amount}, {"costs", ids}}});
    return group;
}

} // namespace tarewell::desk
