#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <set>

using namespace tarewell;
using namespace tarewell::tests;
using figures::figure;
using quantity::quarter;

namespace {

/// All quarters of the award and one on each side, of every kept season.
template <class Body> void for_each_quarter(Body&& body) {
    for (const auto& folder : kept_seasons()) {
        reckoned_season season{folder};
        const auto& award = *season.season().the_award;
        const auto last = quantity::next(award.calendar().holding(award.ends));
        for (auto each = quantity::previous(award.calendar().holding(award.begins)); each <= last;
             each = quantity::next(each)) {
            CAPTURE(folder, quantity::text_of(each));
            body(season, each);
        }
    }
}

/// The figure's value in its smallest whole units; none for ratios and costs per ton.
std::optional<double> whole_value(const figure& of, quantity::weight_unit) {
    if (const auto* count = std::get_if<std::int64_t>(&of.value)) return static_cast<double>(*count);
    if (const auto* weight = std::get_if<quantity::weight>(&of.value)) return static_cast<double>(weight->count());
    if (const auto* money = std::get_if<quantity::money>(&of.value)) return static_cast<double>(money->count());
    return std::nullopt;
}

} // namespace

TEST_CASE("where every row behind a figure adds something, the rows sum to it exactly") {
    std::set<std::string> held;
    for_each_quarter([&](const reckoned_season& season, quarter each) {
        const auto report = season.figures(each);
        for (const auto& of : report.figures) {
            std::int64_t sum = 0;
            const auto rows = season.evidence(report, of.name);
            bool all_add = !rows.empty();
            for (const auto& row : rows) {
                all_add = all_add && row.adds.has_value();
                sum += row.adds.value_or(0);
            }
            if (!all_add) continue;
            CAPTURE(of.name);
            held.insert(of.name);
            const auto unit = season.season().the_award->unit;
            if (of.unit == "tons")
                CHECK(std::get<figures::real>(of.value) == quantity::short_tons(quantity::weight{sum}, unit));
            else
                CHECK(whole_value(of, unit) == static_cast<double>(sum));
        }
    });
    for (const auto* name :
         {"registered_bundles", "registered_estimate", "received_bundles", "received_estimate",   "rejected_bundles",
          "rejected_estimate",  "baled_bundles",       "bales_made",       "bales_weighed",       "bale_net_weight",
          "bale_estimate",      "on_hand_bundles",     "on_hand_estimate", "residue_weight",      "diverted_weight",
          "diverted_tons",      "accepted_tons",       "bales_on_hand",    "growers_served",      "growers_new",
          "growers_to_date",    "sites_active",        "grant_spent",      "grant_spent_to_date", "match_given",
          "match_to_date"}) {
        CAPTURE(name);
        CHECK(held.count(name) == 1);
    }
}

TEST_CASE("a figure that is not 0 has rows behind it, and one without rows is 0 or undefined") {
    for_each_quarter([&](const reckoned_season& season, quarter each) {
        for (const auto& of : season.figures(each).figures) {
            CAPTURE(of.name);
            const auto* real = std::get_if<figures::real>(&of.value);
            const bool something = real != nullptr ? *real != 0 : whole_value(of, {}).value_or(0) != 0;
            if (something) CHECK(of.rows > 0);
        }
    });
}

TEST_CASE("each row behind a figure is in force and is named once") {
    for_each_quarter([&](reckoned_season& season, quarter each) {
        std::set<std::pair<ledger::kind, ledger::entry_no>> in_force;
        for (const auto& kind : ledger::all_kinds())
            season.file().for_each(kind.which, season.head(),
                                   [&](const ledger::stored_row& row) { in_force.emplace(kind.which, row.entry); });
        const auto report = season.figures(each);
        for (const auto& of : report.figures) {
            std::set<ledger::entry_no> seen;
            std::size_t stray = 0;
            for (const auto& row : season.evidence(report, of.name)) {
                stray += in_force.count({row.which, row.entry}) == 0 ? 1 : 0;
                seen.insert(row.entry);
            }
            CAPTURE(of.name);
            CHECK(stray == 0);
            CHECK(seen.size() == of.rows);
        }
    });
}

TEST_CASE("after a correction and a void the rows behind the figures are the new ones") {
    reckoned_season season{quiet_season()};
    const auto corrected = intake::correct(season.file(), ledger::kind::ticket, {"T2"},
                                           {{"gross", "151"}, {"net", "111"}}, "misread", season.around());
    intake::void_record(season.file(), ledger::kind::inkind, {"I1"}, "entered twice", season.around());
    season.read(season.head());
    const auto report = season.figures({2026, 2});
    CHECK(text_of(report, "bale_net_weight") == "261.000");
    CHECK(text_of(report, "match_given") == "0.00");
    CHECK(season.evidence(report, "match_given").empty());
    const auto rows = season.evidence(report, "bale_net_weight");
    REQUIRE(rows.size() == 2);
    CHECK(rows.back().entry == corrected.entries.at(0));
    CHECK(rows.back().adds == 111'000);
}

TEST_CASE("figures as of an entry are those of the ledger as it stood then") {
    reckoned_season season{quiet_season()};
    const auto before = season.head();
    const auto as_it_stood = season.figures({2026, 2});
    intake::correct(season.file(), ledger::kind::ticket, {"T2"}, {{"gross", "160"}, {"net", "120"}}, "misread",
                    season.around());
    intake::void_record(season.file(), ledger::kind::cost, {"C1"}, "entered twice", season.around());
    intake::record(season.file(), ledger::kind::receipt,
                   {{"receipt", "RC9"}, {"date", "2026-06-20"}, {"site", "S2"}, {"bundle", "B5"}, {"outcome", "held"}},
                   season.around());
    season.read(season.head());
    const auto now = season.figures({2026, 2});
    CHECK(text_of(now, "bale_net_weight") == "270.000");
    CHECK(text_of(now, "grant_spent") == "0.00");
    CHECK(text_of(now, "sites_active") == "2");
    season.read(before);
    const auto again = season.figures({2026, 2});
    for (std::size_t i = 0; i < again.figures.size(); ++i) {
        CAPTURE(again.figures[i].name);
        CHECK(again.figures[i].value == as_it_stood.figures[i].value);
        CHECK(again.figures[i].rows == as_it_stood.figures[i].rows);
    }
}
