#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

using quantity::day;

/// One thing that is waited for, and the command that settles it (capitals stand for what only the person knows).
struct due_item {
    std::string sentence, command;
    value data;              ///< for machines: ids, days, amounts; telephone numbers of growers too
    bool is_pressing = true; ///< false: told to people as a count alone
};

/// Things of one sort, the most pressing first.
struct due_group {
    std::string name;    ///< for machines: "late_bundles"
    std::string heading; ///< for people
    std::vector<due_item> items;
};

/// What the ledger waits for on a day, in the order of what hurts: reports, doubts that block closing, costs not
/// claimed, bundles not received, bales not weighed, loads not accepted, missing papers, sites near their capacity,
/// registrations without sizes. A group with nothing in it is left out. Names and telephone numbers of growers stand in
/// it: it is for the office alone, never for a report.
std::vector<due_group> waited_for(const season_view& seen, day on);

/// The same as an answer.
answer due(const season_view& seen, day on);

} // namespace tarewell::desk
