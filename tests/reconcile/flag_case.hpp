#pragma once
#include "figures/flags.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <vector>

namespace tarewell::tests {

/// A small season that raises one flag, and one that comes as near as can be and does not.
struct flag_case {
    std::string story; ///< a sentence
    std::string code;
    season_files raises;
    std::string subject, on, rows, sentence; ///< rows as "ticket T3, bale L2 B5"
    season_files near_miss;
};

std::vector<flag_case> flag_cases_of_bundles();
std::vector<flag_case> flag_cases_of_bales();
std::vector<flag_case> flag_cases_of_tickets();
std::vector<flag_case> flag_cases_of_paper();
std::vector<flag_case> flag_cases_of_money();
std::vector<flag_case> flag_cases_of_settlements();

/// The changes of the quiet season that the cases are made of.
inline season_files quiet_but(const std::string& file, std::string_view old_text, std::string_view new_text) {
    return changed(quiet_season(), file, old_text, new_text);
}
inline season_files quiet_and(const std::string& file, std::string_view rows) {
    return added(quiet_season(), file, rows);
}

inline std::vector<reconcile::flag> flags_with_code(const reckoned_season& season, std::string_view code) {
    auto flags = figures::flags_of(season.season(), season.reckoned());
    std::erase_if(flags, [&](const auto& each) { return each.code != code; });
    return flags;
}

inline std::string rows_of(const reckoned_season& season, const reconcile::flag& flag) {
    std::string names;
    for (const auto& row : flag.rows)
        names += (names.empty() ? "" : ", ") + season.name_of(row.which, row.entry);
    return names;
}

/// Each case's season raises exactly its flag of that code, and its near miss none.
inline void check_flags(const std::vector<flag_case>& cases) {
    for (const auto& each : cases)
        DYNAMIC_SECTION(each.story) {
            const reckoned_season season{each.raises};
            const auto flags = flags_with_code(season, each.code);
            REQUIRE(flags.size() == 1);
            CHECK(flags[0].subject == each.subject);
            CHECK(quantity::text_of(flags[0].on) == each.on);
            CHECK(rows_of(season, flags[0]) == each.rows);
            CHECK(flags[0].sentence == each.sentence);
            CHECK(flags_with_code(reckoned_season{each.near_miss}, each.code).empty());
        }
}

} // namespace tarewell::tests
