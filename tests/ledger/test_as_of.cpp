#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "records/season.hpp"
#include "rows.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using records::kind;
using names = std::vector<std::string>;

TEST_CASE("a record reads as it stood at every entry, before and after its correction and void") {
    small_ledger small;
    const auto recorded = small.record(site_row("S1", "Old Creamery"));
    const auto corrected = small.correct(site_row("S1", "New Creamery"), recorded);
    const auto voided = small.take_out(kind::site, corrected);
    CHECK(small.in_force(kind::site, 0).empty());
    CHECK(small.in_force(kind::site, recorded) == names{"S1 Old Creamery"});
    CHECK(small.in_force(kind::site, corrected) == names{"S1 New Creamery"});
    CHECK(small.in_force(kind::site, voided).empty());
}

TEST_CASE("a void that was taken back is a void only until then") {
    small_ledger small;
    const auto recorded = small.record(site_row("S1", "Old Creamery"));
    const auto voided = small.take_out(kind::site, recorded);
    const auto back = small.correct(site_row("S1", "Old Creamery"), voided);
    CHECK(small.in_force(kind::site, back) == names{"S1 Old Creamery"});
    CHECK(small.file().voids(back).empty());
    REQUIRE(small.file().voids(voided).size() == 1);
    CHECK(small.file().voids(voided)[0].entry == voided);
    CHECK(small.file().voids(voided)[0].kind == "site");
    CHECK(small.file().voids(voided)[0].replaces == recorded);
    using pairs = std::vector<std::pair<records::entry_no, records::entry_no>>;
    CHECK(small.file().replacements(back) == pairs{{recorded, voided}, {voided, back}});
    CHECK(small.file().replacements(recorded).empty());
}

TEST_CASE("what was replaced can still be read by its entry") {
    small_ledger small;
    const auto recorded = small.record(site_row("S1", "Old Creamery"));
    small.correct(site_row("S1", "New Creamery"), recorded);
    std::string name;
    CHECK(small.file().with_entry(kind::site, recorded,
                                  [&](const ledger::stored_row& stored) { name = stored.values[1]; }));
    CHECK(name == "Old Creamery");
    CHECK_FALSE(small.file().with_entry(kind::grower, recorded, [](const ledger::stored_row&) {}));
    CHECK_FALSE(small.file().with_entry(kind::site, 99, [](const ledger::stored_row&) {}));
}

TEST_CASE("a correction keeps the place in the order of entry of what it corrects") {
    base_season season;
    season.take_all();
    season.take(kind::ticket,
                "ticket,date,scale,weighs,subject,net,unit,entry\nT2,2026-05-21,P1,bale,L1,112,lb,manual\n");
    const auto order_of = [&](std::string_view id) {
        const auto loaded = ledger::load_season(season.ledger(), season.head());
        for (const auto& ticket : loaded.tickets)
            if (ticket.id == id) return std::pair{ticket.order, ticket.entry};
        return std::pair{records::entry_no{0}, records::entry_no{0}};
    };
    const auto before = order_of("T1");
    for (const auto* net : {"111", "113"})
        intake::correct(season.ledger(), kind::ticket, {"T1"}, {{"net", net}, {"gross", ""}}, "misread",
                        season.around());
    const auto after = order_of("T1");
    CHECK(after.first == before.first);
    CHECK(after.second == season.head());
    CHECK(after.first < order_of("T2").first);
}

TEST_CASE("a season reads as it stood") {
    base_season season;
    season.take_all();
    const auto filed = season.head();
    intake::correct(season.ledger(), kind::bundle, {"B4"}, {{"estimate", "44"}}, "weighed at home", season.around());
    const auto estimate_at = [&](records::entry_no seq) {
        const auto loaded = ledger::load_season(season.ledger(), seq);
        return *loaded.at(loaded.find_bundle("B4")).own_estimate;
    };
    CHECK(estimate_at(filed) == quantity::weight{40'000});
    CHECK(estimate_at(season.head()) == quantity::weight{44'000});
}

TEST_CASE("a head can be asked for at any entry, and past the end is refused") {
    small_ledger small;
    const auto first = small.record(site_row("S1", "Old Creamery"));
    const auto hash = small.file().head().hash;
    small.record(site_row("S2", "Nursery lot"));
    CHECK(small.file().head_at(first).hash == hash);
    CHECK(small.file().head_at(0).seq == 0);
    CHECK(small.file().head_at(first).at == "2027-05-14T09:30:00Z");
    CHECK_THROWS_AS(small.file().head_at(3), records::input_error);
    CHECK_THROWS_AS(small.file().head_at(-1), records::input_error);
}

TEST_CASE("the journal tells who did what, when, why and to what") {
    small_ledger small;
    const auto first = small.record(site_row("S1", "Old Creamery"));
    small.correct(site_row("S1", "New Creamery"), first);
    std::vector<ledger::journal_entry> entries;
    small.file().for_each_journal_entry(1, 2, [&](const ledger::journal_entry& each) { entries.push_back(each); });
    REQUIRE(entries.size() == 2);
    const auto& corrected = entries[1];
    CHECK(corrected.who == "Ruth Ames");
    CHECK(corrected.at == "2027-05-14T09:30:00Z");
    CHECK(corrected.command == "correct");
    CHECK(corrected.reason == "misread label");
    CHECK(corrected.deed == "correct");
    CHECK(corrected.kind == "site");
    CHECK(corrected.replaces == first);
    CHECK(corrected.hash == ledger::hex(small.file().head().hash));
    CHECK_FALSE(entries[0].replaces);
}

TEST_CASE("a setting holds from its day on and its default before") {
    base_season season;
    season.take_all();
    season.take(kind::setting, "setting,from,value\ncurvature_factor,2026-05-01,1.6\ncurvature_factor,2026-07-01,1.7\n"
                               "bundle_aim_lb,,45\n");
    const auto loaded = ledger::load_season(season.ledger(), season.head());
    const auto on = [&](const char* name, const char* day) { return loaded.setting_on(name, quantity::day_of(day)); };
    CHECK(on("curvature_factor", "2026-04-30") == "1.5");
    CHECK(on("curvature_factor", "2026-05-01") == "1.6");
    CHECK(on("curvature_factor", "2026-12-31") == "1.7");
    CHECK(on("bundle_aim_lb", "2020-01-01") == "45");
    CHECK(loaded.setting_on("curvature_factor", std::nullopt) == "1.5");
}
