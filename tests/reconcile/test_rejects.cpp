#include "quiet_season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using quantity::weight;

namespace {

/// The quiet season (bales made 2026-05-20 and -21, weighed 2026-05-22) with these rejects.
reckoned_season with_rejects(std::string_view rows) {
    return reckoned_season{added(quiet_season(), "rejects.csv", rows)};
}

/// What the rejects come to: which bundles were rejected and pulled, and the residue by reject.
std::string outcome_of(const reckoned_season& season) {
    std::string text;
    const auto say = [&](const std::string& what) { text += (text.empty() ? "" : "; ") + what; };
    for (std::size_t i = 0; i < season.season().bundles.size(); ++i) {
        const auto& bundle = season.reckoned().bundles[i];
        if (!bundle.rejections.empty())
            say(season.season().bundles[i].id.text() + " rejected" + (bundle.pulled ? " and pulled" : ""));
    }
    for (const auto& each : season.reckoned().residues)
        say(season.season().rejects[each.reject].id + " residue " + quantity::text_of(each.counted));
    for (const auto index : season.reckoned().weightless_rejects)
        say(season.season().rejects[index].id + " nothing");
    return text;
}
std::string outcome_of(std::string_view rows) { return outcome_of(with_rejects(rows)); }

std::string stage_day(const char* stage, const char* day, const char* named) {
    return fmt::format("J1,{},{},{},soil,\n", day, stage, named);
}

} // namespace

TEST_CASE("a bundle rejected at the site or the baler before its bale is weighed is out of the bale") {
    for (const auto* stage : {"site", "baler"}) {
        CHECK(outcome_of(stage_day(stage, "2026-05-14", "B5,,,")) ==
              "B5 rejected and pulled"); // the day it was accepted
        CHECK(outcome_of(stage_day(stage, "2026-05-21", "B5,,,")) == "B5 rejected and pulled");
        CHECK(outcome_of(stage_day(stage, "2026-05-13", "B5,,,")) == "B5 rejected"); // it came back after
    }
}

TEST_CASE("on the day of weighing and after, a reject is residue, whatever its stage") {
    for (const auto* stage : {"site", "baler", "processor"})
        for (const auto* day : {"2026-05-22", "2026-06-30"}) {
            // computed: B5's share of 110 lb is 47.143 lb; the bale's whole net 110 lb.
            CHECK(outcome_of(stage_day(stage, day, "B5,,,")) == "J1 residue 47.143");
            CHECK(outcome_of(stage_day(stage, day, "B5,,12,lb")) == "J1 residue 12.000");
            CHECK(outcome_of(stage_day(stage, day, ",L2,,")) == "J1 residue 110.000");
            CHECK(outcome_of(stage_day(stage, day, ",L2,7.5,lb")) == "J1 residue 7.500");
        }
}

TEST_CASE("a processor's reject of what was not weighed weighs nothing") {
    CHECK(outcome_of(stage_day("processor", "2026-05-21", "B5,,,")) == "J1 nothing");
    CHECK(outcome_of(stage_day("processor", "2026-05-21", "B5,,5,lb")) == "J1 nothing");
    CHECK(outcome_of(stage_day("processor", "2026-05-21", ",L2,,")) == "J1 nothing");
    CHECK(outcome_of(stage_day("processor", "2026-05-21", ",L2,5,lb")) == "J1 nothing");
}

TEST_CASE("weight out of a bale that was not weighed weighs nothing, and neither does a site's reject of a bale") {
    for (const auto* stage : {"site", "baler"}) {
        CHECK(outcome_of(stage_day(stage, "2026-05-21", "B5,,5,lb")) == "J1 nothing");
        CHECK(outcome_of(stage_day(stage, "2026-05-21", ",L2,5,lb")) == "J1 nothing");
    }
    CHECK(outcome_of(stage_day("site", "2026-05-21", ",L2,,")) == "J1 nothing");
}

TEST_CASE("a baler's reject of an unweighed bale rejects each of its bundles") {
    const auto season = with_rejects(stage_day("baler", "2026-05-21", ",L2,,"));
    CHECK(outcome_of(season) == "B3 rejected and pulled; B5 rejected and pulled");
    CHECK(season.bale("L2").inside.empty());
    CHECK(season.bale("L2").estimate == weight{});
    CHECK(text_of(season.figures({2026, 2}), "rejected_bundles") == "2");
}

TEST_CASE("a bale weighed after it lost every bundle keeps its weight, which is nobody's") {
    const auto season = with_rejects(stage_day("baler", "2026-05-21", ",L2,,"));
    const auto report = season.figures({2026, 2});
    CHECK(text_of(report, "bale_net_weight") == "260.000");
    CHECK(text_of(report, "bale_estimate") == "158.400");
    CHECK_FALSE(season.bundle("B3").share.has_value());
}

TEST_CASE("what was pulled leaves its bale's estimate and shares to the others") {
    const auto season = with_rejects(stage_day("site", "2026-05-21", "B5,,,"));
    CHECK(season.bale("L2").estimate == weight{57'600});
    CHECK(season.bundle("B3").share == weight{110'000});
    CHECK_FALSE(season.bundle("B5").share.has_value());
    CHECK(text_of(season.figures({2026, 2}), "baled_bundles") == "5"); // as pressed, later pulls included
}

TEST_CASE("a reject of a bundle that was pulled already weighs nothing") {
    CHECK(outcome_of("J1,2026-05-21,site,B5,,,,soil,\nJ2,2026-06-01,processor,B5,,,,soil,\n") ==
          "B5 rejected and pulled; J2 nothing");
}

TEST_CASE("a bundle counts as rejected once, by whichever says so first") {
    auto files = added(quiet_season(), "receipts.csv", "RC6,2026-04-30,S1,B5,rejected,wet,\n");
    files = changed(files, "covers.csv", "R2,2026-05-02", "R2,2026-03-01");
    files = added(files, "rejects.csv", "J1,2026-05-21,baler,B5,,,,soil,\n");
    const reckoned_season season{files};
    const auto report = season.figures({2026, 2});
    CHECK(text_of(report, "rejected_bundles") == "1");
    CHECK(text_of(report, "rejected_estimate") == "43.200");
    const auto rows = season.evidence(report, "rejected_bundles");
    REQUIRE(rows.size() == 1);
    const auto& row = rows[0];
    CHECK(season.name_of(row.which, row.entry) == "receipt RC6");
}

TEST_CASE("a rejecting receipt takes a bundle out of its bale, up to the day before the weighing") {
    const auto after = [](const char* day) {
        return reckoned_season{added(quiet_season(), "receipts.csv", fmt::format("RC6,{},S1,B5,rejected,wet,\n", day))};
    };
    CHECK(outcome_of(after("2026-05-21")) == "B5 rejected and pulled");
    CHECK(outcome_of(after("2026-05-22")) == "B5 rejected"); // the day of the weighing: it was weighed with the bale
    CHECK(after("2026-05-22").bundle("B5").share == weight{47'143});
    CHECK(outcome_of(after("2026-05-23")).empty());
    CHECK(after("2026-05-23").reckoned().late_receipts.size() == 1);
}

TEST_CASE("residue never passes its bale's net: by date, then order of entry, whatever the stage") {
    CHECK(outcome_of("J1,2026-05-30,processor,,L2,60,lb,twine,\nJ2,2026-05-29,baler,B3,,40,lb,soil,\nJ3,2026-05-30,"
                     "site,,L2,30,lb,soil,\n") == "J2 residue 40.000; J1 residue 60.000; J3 residue 10.000");
    CHECK(outcome_of("J1,2026-05-30,processor,,L2,,,twine,\nJ2,2026-05-30,processor,B3,,,,soil,\n") ==
          "J1 residue 110.000; J2 residue 0.000");
    const auto season = with_rejects("J1,2026-05-30,processor,,L2,200,lb,twine,\n");
    CHECK(season.bale("L2").residue == weight{110'000});
    CHECK(text_of(season.figures({2026, 2}), "diverted_weight") == "150.000");
}

TEST_CASE("a corrected reject keeps its place in the order of entry") {
    auto season = with_rejects("J1,2026-05-30,processor,,L2,80,lb,twine,\nJ2,2026-05-30,processor,,L2,80,lb,soil,\n");
    intake::correct(season.file(), records::kind::reject, {"J1"}, {{"weight", "100"}}, "misread", season.around());
    season.read(season.head());
    CHECK(outcome_of(season) == "J1 residue 100.000; J2 residue 10.000");
}

TEST_CASE("an accepted weight is after all that the processor rejected by then; only later rejects are taken off it") {
    const auto diverted = [](std::string_view reject, bool accepted = true) {
        auto files = changed(added(quiet_season(), "rejects.csv", reject), "award.csv", ",10,\n", ",10,accepted\n");
        if (!accepted) files = changed(files, "acceptances.csv", "SH1,2026-06-01,255,lb\n", "");
        const auto report = reckoned_season{files}.figures({2026, 2});
        return text_of(report, "diverted_weight");
    };
    CHECK(diverted("") == "255.000");
    CHECK(diverted("J1,2026-05-31,processor,,L2,12,lb,twine,\n") == "255.000");
    CHECK(diverted("J1,2026-06-01,processor,,L2,12,lb,twine,\n") == "255.000"); // not after it
    CHECK(diverted("J1,2026-06-02,processor,,L2,12,lb,twine,\n") == "243.000");
    CHECK(diverted("J1,2026-06-02,baler,,L2,12,lb,twine,\n") == "255.000");
    CHECK(diverted("J1,2026-06-02,processor,,L2,12,lb,twine,\n", false) == "0.000");
}
