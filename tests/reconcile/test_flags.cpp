#include "flag_case.hpp"

#include <set>

using namespace tarewell;
using namespace tarewell::tests;
using figures::flags_of;

namespace {

std::vector<flag_case> all_cases() {
    std::vector<flag_case> all;
    for (const auto& cases : {flag_cases_of_bundles(), flag_cases_of_bales(), flag_cases_of_tickets(),
                              flag_cases_of_paper(), flag_cases_of_money(), flag_cases_of_settlements()})
        all.insert(all.end(), cases.begin(), cases.end());
    return all;
}

std::vector<std::string> codes_of(const std::vector<reconcile::flag>& flags) {
    std::vector<std::string> codes;
    for (const auto& each : flags)
        codes.emplace_back(each.code);
    return codes;
}

} // namespace

TEST_CASE("a season in which all is well raises no flag") {
    const reckoned_season season{quiet_season()};
    CHECK(codes_of(flags_of(season.season(), season.reckoned())).empty());
}

TEST_CASE("every kind of flag has a season that raises it, and a meaning that nobody else has") {
    std::set<std::string_view> tried, codes, meanings;
    const auto cases = all_cases();
    for (const auto& each : cases)
        tried.insert(each.code);
    for (const auto& each : reconcile::flag_codes()) {
        codes.insert(each.code);
        meanings.insert(each.meaning);
    }
    CHECK(tried == codes);
    CHECK(codes.size() == reconcile::flag_codes().size());
    CHECK(meanings.size() == codes.size());
}

TEST_CASE("only flags that put a figure in doubt block a quarter's closing") {
    std::set<std::string_view> stopping;
    for (const auto& each : reconcile::flag_codes())
        if (each.level == reconcile::flag_level::blocks) stopping.insert(each.code);
    CHECK(stopping == std::set<std::string_view>{"claim-over-twice-maximum",
                                                 "baled-not-received",
                                                 "density-impossible",
                                                 "net-far-from-claim",
                                                 "net-unexpected",
                                                 "net-as-printed",
                                                 "ticket-twice",
                                                 "beyond-capacity",
                                                 "load-empty",
                                                 "reject-without-weight",
                                                 "late-rejection",
                                                 "residue-capped",
                                                 "accepted-above-shipped",
                                                 "dated-after-entry",
                                                 "cost-twice",
                                                 "income-twice",
                                                 "disallowed-above-cost",
                                                 "indirect-not-counted",
                                                 "hours-in-day",
                                                 "match-twice"});
    CHECK(reconcile::blocks_closing("net-as-printed"));
    CHECK_FALSE(reconcile::blocks_closing("rejected"));
    CHECK_FALSE(reconcile::blocks_closing("no-such-flag"));
}

TEST_CASE("flags stand in the order of their codes, then by day, then by subject") {
    auto files = quiet_but("costs.csv", "personnel", "supplies");
    files = added(files, "costs.csv",
                  "C0,2026-05-03,supplies,twine,1,grant,inv 2\nC9,2026-05-02,supplies,wire,1,grant,inv 3\n");
    files = changed(files, "receipts.csv", "RC5,2026-05-14,S1", "RC5,2026-05-14,S2");
    const reckoned_season season{files};
    std::vector<std::string> found;
    for (const auto& each : flags_of(season.season(), season.reckoned()))
        found.push_back(std::string{each.code} + " " + each.subject);
    CHECK(found ==
          std::vector<std::string>{"other-site RC5", "no-budget-line C9", "no-budget-line C0", "no-budget-line C1"});
}

TEST_CASE("the flags of some days are those dated in them, both ends included") {
    auto files = quiet_but("costs.csv", "personnel", "supplies");
    files = added(files, "costs.csv",
                  "C2,2026-06-30,supplies,twine,1,grant,inv 2\nC3,2026-07-01,supplies,wire,1,grant,inv 3\n");
    const reckoned_season season{files};
    const auto flags = flags_of(season.season(), season.reckoned());
    REQUIRE(flags.size() == 3);
    const auto days = season.season().the_award->calendar().days_of({2026, 2});
    CHECK(flags_in(flags, days).size() == 2);
    CHECK(flags_in(flags, {days.to, days.to}).size() == 1);
    CHECK(flags_in(flags, {days.to + date::days{1}, days.to + date::days{1}}).at(0).subject == "C3");
}

TEST_CASE("a season without an award has no flags and does not fail") {
    CHECK(flags_of(records::season{}, reconcile::reckoning{}).empty());
}

TEST_CASE("flagged rows count: a ticket off its division and out of certification still weighs its bale") {
    auto files = quiet_but("tickets.csv", "L2,150,40,110", "L2,,,110.5");
    files = changed(files, "scales.csv", "2026-12-31", "2026-05-01");
    const reckoned_season season{files};
    CHECK(flags_with_code(season, "certificate").size() == 2);
    CHECK(text_of(season.figures({2026, 2}), "bale_net_weight") == "260.500");
}
