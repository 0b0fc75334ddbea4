#include "closed_basin.hpp"

#include <catch2/catch.hpp>
#include <nlohmann/json.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

/// "by 41, own rows" of the one entry
std::string own(const closed_basin::entries& by) {
    std::string text = " by";
    for (const auto entry : by)
        text += fmt::format(" {}", entry);
    return text + ", own rows";
}

/// Every figure that moved, moved by these entries of its own rows.
void check_all_moved_by(const std::vector<figures::restatement>& moved, const closed_basin::entries& by) {
    for (const auto& each : moved) {
        CAPTURE(each.figure);
        CHECK(each.exactly);
        closed_basin::entries entries;
        for (const auto& entry : each.moved_by)
            entries.push_back(entry.seq);
        CHECK(entries == by);
    }
}

} // namespace

TEST_CASE("nothing is restated when nothing moved") {
    closed_basin basin;
    basin.close();
    CHECK(basin.restated().empty());
    basin.correct(kind::haul, {"H1"}, {{"driver", "Tove"}});
    basin.record(kind::site, {{"site", "S9"}, {"name", "Grange hall"}});
    basin.cost("C9", "2026-07-01", "12.50"); // the next quarter's
    CHECK(basin.restated().empty());
    const auto said = basin.at_the_desk().tell({"quarter", "restate", "2026-Q2"});
    CHECK(said.code == cli::done);
    CHECK(said.out == "2026-Q2 stands as filed: no figure moved\n");
}

TEST_CASE("a corrected ticket restates what stands on its weight, and is named for each") {
    closed_basin basin;
    basin.close();
    basin.record(kind::site, {{"site", "S9"}, {"name", "Grange hall"}}); // moves nothing, is named nowhere
    const auto by = basin.correct(kind::ticket, {"T1"}, {{"gross", "160"}, {"net", "120"}});
    const auto moved = basin.restated();
    CHECK(said(moved, "bale_net_weight") == "110.000 -> 120.000 (10.000)" + own(by));
    CHECK(said(moved, "diverted_weight") == "105.000 -> 115.000 (10.000)" + own(by));
    CHECK_THAT(said(moved, "diverted_tons"), Contains("0.0525 -> 0.0575") && Contains(own(by)));
    CHECK(names_in(moved) == std::set<std::string>{"bale_net_weight", "weight_over_estimate", "residue_share",
                                                   "diverted_weight", "diverted_tons", "diverted_tons_to_date",
                                                   "goal_share", "shipped_tons", "cost_per_ton", "grant_cost_per_ton",
                                                   "cost_per_ton_to_date", "grant_cost_per_ton_to_date",
                                                   "projected_tons"});
    check_all_moved_by(moved, by);
    const auto& entry = find(moved, "bale_net_weight")->moved_by.at(0);
    CHECK(entry.who == "Ruth Ames");
    CHECK(entry.at == "2027-05-14T09:30:00Z");
    CHECK(entry.reason == "misread label");
    CHECK(entry.command == "correct ticket");
}

TEST_CASE("a voided reject gives its residue back") {
    closed_basin basin;
    basin.close();
    const auto by = basin.take_out(kind::reject, {"J1"});
    const auto moved = basin.restated();
    CHECK(said(moved, "residue_weight") == "5.000 -> 0.000 (-5.000)" + own(by));
    CHECK(said(moved, "diverted_weight") == "105.000 -> 110.000 (5.000)" + own(by));
    CHECK(find(moved, "bale_net_weight") == nullptr);
    check_all_moved_by(moved, by);
}

TEST_CASE("a late receipt and a late cost each restate their own figures and no others") {
    closed_basin basin;
    basin.close();
    const auto receipt = basin.record(
        kind::receipt,
        {{"receipt", "RC9"}, {"date", "2026-06-30"}, {"site", "S2"}, {"bundle", "B3"}, {"outcome", "accepted"}});
    const auto cost = basin.cost("C9", "2026-06-30", "12.50");
    const auto moved = basin.restated();
    CHECK(said(moved, "received_bundles") == "2 -> 3 (1)" + own(receipt));
    CHECK(said(moved, "received_estimate") == "115.200 -> 172.800 (57.600)" + own(receipt));
    CHECK(said(moved, "on_hand_bundles") == "0 -> 1 (1)" + own(receipt));
    CHECK(said(moved, "sites_active") == "1 -> 2 (1)" + own(receipt));
    CHECK(said(moved, "grant_spent") == "100.50 -> 113.00 (12.50)" + own(cost));
    // 10 % of 113.00, less the 10.05 filed.
    CHECK(said(moved, "indirect_claimed") == "10.05 -> 11.30 (1.25)" + own(cost));
    // 6000.00 - 113.00 - 11.30.
    CHECK(said(moved, "grant_left") == "5889.45 -> 5875.70 (-13.75)" + own(cost));
    CHECK(find(moved, "diverted_weight") == nullptr);
}

TEST_CASE("a corrected cover moves estimates that are no rows of its own, and the restatement says so") {
    closed_basin basin;
    basin.close();
    const auto site = basin.record(kind::site, {{"site", "S9"}, {"name", "Grange hall"}});
    const auto cover = basin.correct(kind::cover, {"R1", "1"}, {{"length_ft", "48"}});
    const auto moved = basin.restated();
    const auto all = fmt::format(" by {} {}, what it stands on", site[0], cover[0]);
    CHECK(said(moved, "received_estimate") == "115.200 -> 57.600 (-57.600)" + all);
    CHECK(said(moved, "registered_estimate") == "254.300 -> 167.900 (-86.400)" + all);
    CHECK(find(moved, "received_bundles") == nullptr);
    CHECK(find(moved, "bale_net_weight") == nullptr);
}

TEST_CASE("a figure moved by a late row of its own and by what it stands on names all that came since") {
    closed_basin basin;
    basin.close();
    const auto cover = basin.correct(kind::cover, {"R1", "1"}, {{"length_ft", "48"}});
    const auto receipt = basin.record(
        kind::receipt,
        {{"receipt", "RC9"}, {"date", "2026-06-30"}, {"site", "S1"}, {"bundle", "B3"}, {"outcome", "accepted"}});
    const auto moved = basin.restated();
    CHECK(said(moved, "received_estimate") ==
          fmt::format("115.200 -> 86.400 (-28.800) by {} {}, what it stands on", cover[0], receipt[0]));
    CHECK(said(moved, "received_bundles") == "2 -> 3 (1)" + own(receipt));
}

TEST_CASE("a record corrected and then voided names both") {
    closed_basin basin;
    basin.close();
    auto by = basin.correct(kind::cost, {"C1"}, {{"amount", "200"}});
    const auto voided = basin.take_out(kind::cost, {"C1"});
    by.insert(by.end(), voided.begin(), voided.end());
    CHECK(said(basin.restated(), "grant_spent") == "100.50 -> 0.00 (-100.50)" + own(by));
}

TEST_CASE("a correction that changes nothing of a sum, and one taken back, are not named as what moved it") {
    closed_basin basin;
    basin.cost("C2", "2026-06-01", "10.00");
    basin.close();
    basin.correct(kind::cost, {"C1"}, {{"payee", "Tove"}});
    basin.correct(kind::cost, {"C2"}, {{"amount", "11.00"}});
    basin.correct(kind::cost, {"C2"}, {{"amount", "10.00"}});
    const auto late = basin.cost("C3", "2026-06-02", "1.00");
    CHECK(said(basin.restated(), "grant_spent") == "110.50 -> 111.50 (1.00)" + own(late));
}

TEST_CASE("a record moved to another quarter restates both") {
    closed_basin basin;
    basin.close();
    basin.close(closed_basin::summer);
    const auto by = basin.correct(kind::cost, {"C1"}, {{"date", "2026-07-03"}});
    CHECK(said(basin.restated(), "grant_spent") == "100.50 -> 0.00 (-100.50)" + own(by));
    CHECK(said(basin.restated(closed_basin::summer), "grant_spent") == "0.00 -> 100.50 (100.50)" + own(by));
    CHECK(find(basin.restated(closed_basin::summer), "grant_spent_to_date") == nullptr);
}

TEST_CASE("a correction that is taken back restates nothing") {
    closed_basin basin;
    basin.close();
    basin.correct(kind::cost, {"C1"}, {{"amount", "200"}});
    CHECK_FALSE(basin.restated().empty());
    basin.correct(kind::cost, {"C1"}, {{"amount", "100.5"}});
    CHECK(basin.restated().empty());
}

TEST_CASE("a figure that was undefined when filed is restated without a difference") {
    closed_basin basin;
    basin.close(closed_basin::summer);
    const auto by = basin.record(
        kind::receipt,
        {{"receipt", "RC9"}, {"date", "2026-07-01"}, {"site", "S1"}, {"bundle", "B3"}, {"outcome", "accepted"}});
    CHECK(said(basin.restated(closed_basin::summer), "rejected_share") == " -> 0 ()" + own(by));
}

TEST_CASE("restatement at the desk gives filed, now, difference and who moved it, and exit 1") {
    closed_basin basin;
    const auto filed = basin.head();
    basin.close();
    const auto by = basin.cost("C9", "2026-06-30", "12.50");
    const auto at = basin.at_the_desk();
    const auto told = at.tell({"quarter", "restate", "2026-Q2"});
    CHECK(told.code == cli::findings);
    CHECK_THAT(told.out, Contains("grant_spent") && Contains("100.50") && Contains("113.00") && Contains("12.50"));
    CHECK_THAT(told.out,
               Contains(fmt::format("entry {}, 2027-05-14T09:30:00Z, Ruth Ames: record cost 2026-06-30", by[0])));
    const auto json = nlohmann::json::parse(at.tell({"quarter", "restate", "2026-Q2", "--json"}).out);
    CHECK(json["filed_as_of"] == filed);
    CHECK(json["as_of"] == basin.head());
    CHECK(json["figures"][0]["figure"] == "grant_spent");
    CHECK(json["figures"][0]["difference"] == "12.50");
    CHECK(json["figures"][0]["own_rows"] == true);
    CHECK(json["figures"][0]["entries"][0]["entry"] == by[0]);
    // As of the closing itself nothing had moved.
    CHECK(at.tell({"quarter", "restate", "2026-Q2", "--as-of", std::to_string(filed + 1)}).code == cli::done);
}
