#pragma once
#include "base_season.hpp"

#include <catch2/catch.hpp>

#include <vector>

namespace tarewell::tests {

/// One row that is refused: in which file, the file's text, where the error is and what it says.
struct refusal_case {
    records::kind which;
    const char* text;
    const char* where; ///< "receipts.csv:2:bundle"
    const char* says;
};

/// Takes each text into one ledger that holds the base season. Each is refused with exactly the one
/// error, and the ledger stays as it was.
inline void expect_refusals(const std::vector<refusal_case>& cases) {
    base_season season;
    season.take_all();
    const auto before = season.head();
    for (const auto& each : cases) {
        CAPTURE(each.text, each.where);
        const auto lines = season.refusals(each.which, each.text);
        CAPTURE(lines);
        CHECK(lines.size() == 1);
        if (lines.empty()) continue;
        CHECK_THAT(lines[0], Catch::Matchers::StartsWith(std::string{each.where} + ": "));
        CHECK_THAT(lines[0], Catch::Matchers::Contains(each.says));
        CHECK_THAT(lines[0], Catch::Matchers::Contains("; ")); // what would be right
        CHECK(season.head() == before);
    }
}

} // namespace tarewell::tests
