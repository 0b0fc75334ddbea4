#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "records/season.hpp"

#include <catch2/catch.hpp>

using namespace tarewell::tests;
using namespace tarewell;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using intake::named_values;
using records::kind;
using strings = std::vector<std::string>;

namespace {

/// The base season taken in, with a record's changes made short.
class changed_season : public base_season {
  public:
    changed_season() { take_all(); }
    intake::change_summary record(kind which, const named_values& values, const std::string& once = {}) {
        return intake::record(ledger(), which, values, around(), once);
    }
    intake::change_summary correct(kind which, const strings& key, const named_values& changes,
                                   const std::string& reason = "misread", const std::string& once = {}) {
        return intake::correct(ledger(), which, key, changes, reason, around(), once);
    }
    intake::change_summary take_out(kind which, const strings& key, const std::string& reason = "entered twice") {
        return intake::void_record(ledger(), which, key, reason, around());
    }
    [[nodiscard]] records::season now() { return load_season(ledger(), head()); }

    /// The one line of a refusal that changes nothing.
    template <class Body> std::string refusal(Body&& body) {
        const auto before = head();
        const auto lines = refusals_of(body);
        CHECK(head() == before);
        return lines.size() == 1 ? lines[0] : fmt::format("{} lines", lines.size());
    }
};

const named_values new_cost{{"cost", "C9"},         {"date", "2026-06-01"}, {"category", "travel"},
                            {"description", "van"}, {"amount", "12.50"},    {"fund", "grant"}};

} // namespace

TEST_CASE("a row is recorded once, and again changes nothing") {
    changed_season season;
    const auto first = season.record(kind::cost, new_cost);
    CHECK(first.entries == std::vector<records::entry_no>{season.head()});
    const auto again = season.record(kind::cost, new_cost);
    CHECK(again.entries.empty());
    CHECK_THAT(again.note, Contains("nothing was changed"));
    CHECK(season.now().costs.size() == 2);
}

TEST_CASE("what is recorded is held against the rules of a file's row") {
    changed_season season;
    auto bad = new_cost;
    bad["amount"] = "12.505";
    CHECK_THAT(season.refusal([&] { season.record(kind::cost, bad); }), StartsWith("--amount: "));
    bad = new_cost;
    bad["cost"] = "C1";
    CHECK_THAT(season.refusal([&] { season.record(kind::cost, bad); }), StartsWith("--cost: "));
    CHECK_THAT(season.refusal([&] {
        season.record(
            kind::receipt,
            {{"receipt", "RC9"}, {"date", "2026-06-01"}, {"site", "S1"}, {"bundle", "B1"}, {"outcome", "accepted"}});
    }),
               StartsWith("--bundle: bundle 'B1' was accepted before"));
    bad = new_cost;
    bad["description"] = "\xFF";
    CHECK_THAT(season.refusal([&] { season.record(kind::cost, bad); }),
               StartsWith("--description: is not valid UTF-8"));
}

TEST_CASE("the same idempotency key does nothing again, whatever is asked") {
    changed_season season;
    season.record(kind::cost, new_cost, "key-1");
    const auto head = season.head();
    auto other = new_cost;
    other["cost"] = "C10";
    CHECK_THAT(season.record(kind::cost, other, "key-1").note, Contains("done before"));
    CHECK_THAT(season.correct(kind::cost, {"C9"}, {{"amount", "13"}}, "misread", "key-1").note,
               Contains("done before"));
    CHECK(season.head() == head);
    CHECK(season.correct(kind::cost, {"C9"}, {{"amount", "13"}}, "misread", "key-2").entries.size() == 1);
}

TEST_CASE("a correction replaces the values named and leaves the others") {
    changed_season season;
    const auto summary = season.correct(kind::cost, {"C1"}, {{"amount", "200.00"}, {"payee", "Ola"}});
    CHECK(summary.entries.size() == 1);
    const auto cost = season.now().costs.at(0);
    CHECK(cost.amount == quantity::money{20'000});
    CHECK(cost.description == "sorting");
}

TEST_CASE("a correction to equal values changes nothing") {
    changed_season season;
    const auto before = season.head();
    const auto summary = season.correct(kind::cost, {"C1"}, {{"amount", "100.500"}, {"description", "sorting"}});
    CHECK(summary.entries.empty());
    CHECK_THAT(summary.note, Contains("nothing was changed"));
    CHECK(season.head() == before);
}

TEST_CASE("a correction says why and names what there is") {
    changed_season season;
    const auto cost = [&](const strings& key, const named_values& changes, const std::string& reason) {
        return season.refusal([&] { season.correct(kind::cost, key, changes, reason); });
    };
    CHECK_THAT(cost({"C1"}, {{"amount", "5"}}, ""), StartsWith("--why: is empty"));
    CHECK_THAT(cost({"C7"}, {{"amount", "5"}}, "misread"), StartsWith("cost: the ledger holds no cost C7"));
    CHECK_THAT(cost({"C1"}, {{"colour", "red"}}, "misread"), StartsWith("--colour: is no column"));
    CHECK_THAT(cost({"C1"}, {{"cost", "C2"}}, "misread"), StartsWith("--cost: is part of the key"));
    CHECK_THAT(cost({"C1", "C2"}, {{"amount", "5"}}, "misread"), StartsWith("cost: 2 parts of a key"));
    CHECK_THAT(cost({}, {{"amount", "5"}}, "misread"), StartsWith("cost: 0 parts of a key"));
    CHECK_THAT(cost({"C1"}, {{"amount", "5.001"}}, "misread"), StartsWith("amount (cost C1): "));
    CHECK_THAT(cost({"C1"}, {{"description", ""}}, "misread"), StartsWith("description (cost C1): is empty"));
}

TEST_CASE("a correction that breaks a rule elsewhere is refused with the record that it breaks") {
    changed_season season;
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::receipt, {"RC3"}, {{"bundle", "B1"}, {"outcome", "accepted"}});
    }),
               Contains("was accepted before"));
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::bundle, {"B4"}, {{"of", "4"}});
    }),
               StartsWith("of (bundle B"));
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::bundle, {"B2"}, {{"registration", "R2"}, {"number", "2"}, {"of", "3"}});
    }),
               !StartsWith("0 lines"));
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::ticket, {"T1"}, {{"tare", "41"}});
    }),
               StartsWith("net (ticket T1): 110 is not gross 150 less tare 41"));
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::cover, {"R1", "1"}, {{"length_ft", ""}, {"width_ft", ""}, {"layers", ""}});
    }),
               !StartsWith("0 lines"));
}

TEST_CASE("a shared column is changed in all rows of its record") {
    changed_season season;
    const auto whole = season.correct(kind::bale, {"L1"}, {{"date", "2026-05-19"}});
    CHECK(whole.entries.size() == 2);
    CHECK(quantity::text_of(season.now().bales.at(0).date) == "2026-05-19");
    const auto by_row = season.correct(kind::bale, {"L1", "B2"}, {{"date", "2026-05-18"}});
    CHECK(by_row.entries.size() == 2);
    CHECK(quantity::text_of(season.now().bales.at(0).date) == "2026-05-18");
    CHECK(season.now().bales.at(0).bundles.size() == 2);
}

TEST_CASE("a column that differs from row to row needs the row's name") {
    changed_season season;
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::cover, {"R1"}, {{"length_ft", "90"}});
    }),
               StartsWith("--length_ft: belongs to one row of the registration"));
    CHECK(season.correct(kind::cover, {"R1", "1"}, {{"length_ft", "90"}}).entries.size() == 1);
}

TEST_CASE("a row that was voided stays so when its record's other rows are corrected") {
    changed_season season;
    season.take_out(kind::haul, {"H1", "B2"});
    CHECK(season.correct(kind::haul, {"H1"}, {{"driver", "Wim"}}).entries.size() == 1);
    REQUIRE(season.now().hauls.size() == 1);
    CHECK(season.now().hauls[0].driver == "Wim");
    CHECK(season.correct(kind::haul, {"H1", "B1"}, {{"date", "2026-05-16"}}).entries.size() == 1);
    CHECK(season.now().hauls.size() == 1);
}

TEST_CASE("a record is voided with its reason, and again changes nothing") {
    changed_season season;
    CHECK_THAT(season.refusal([&] { season.take_out(kind::inkind, {"I1"}, ""); }), StartsWith("--why: "));
    CHECK(season.take_out(kind::inkind, {"I1"}).entries.size() == 1);
    CHECK(season.now().gifts.empty());
    CHECK_THAT(season.take_out(kind::inkind, {"I1"}).note, Contains("voided already"));
    CHECK_THAT(season.refusal([&] { season.take_out(kind::inkind, {"I7"}); }), Contains("holds no inkind I7"));
}

TEST_CASE("what other records name cannot be voided") {
    changed_season season;
    CHECK_THAT(season.refusal([&] { season.take_out(kind::scale, {"P1"}); }),
               StartsWith("scale (ticket T1): no scale 'P1' is defined"));
    CHECK_THAT(season.refusal([&] { season.take_out(kind::bundle, {"B4"}); }), StartsWith("bundle (receipt RC3): "));
    CHECK_THAT(season.refusal([&] { season.take_out(kind::shipment, {"SH1"}); }),
               StartsWith("shipment (acceptance SH1): "));
    CHECK_THAT(season.refusal([&] { season.take_out(kind::bale, {"L1"}); }), !StartsWith("0 lines"));
    CHECK_THAT(season.refusal([&] { season.take_out(kind::grower, {"G2"}); }), StartsWith("grower (cover R2 1): "));
    // One of a bale's two rows may go: the bale is still there.
    CHECK(season.take_out(kind::bale, {"L1", "B2"}).entries.size() == 1);
}

TEST_CASE("a voided record comes back by a correction, if the rules still allow it") {
    changed_season season;
    season.take_out(kind::receipt, {"RC1"});
    CHECK(season.correct(kind::receipt, {"RC1"}, {{"reason", "was right"}}).entries.size() == 1);
    CHECK(season.now().receipts.size() == 3);
    season.take_out(kind::receipt, {"RC1"});
    season.record(
        kind::receipt,
        {{"receipt", "RC9"}, {"date", "2026-06-01"}, {"site", "S1"}, {"bundle", "B1"}, {"outcome", "accepted"}});
    CHECK_THAT(season.refusal([&] {
        season.correct(kind::receipt, {"RC1"}, {{"reason", "again"}});
    }),
               Contains("was accepted before"));
}

TEST_CASE("a corrected row of a re-taken file stays corrected") {
    changed_season season;
    season.correct(kind::cost, {"C1"}, {{"amount", "200"}});
    const auto head = season.head();
    const auto summary = season.take(kind::cost, base_files().at("costs.csv"));
    CHECK(summary.known == 1);
    CHECK(summary.taken == 0);
    REQUIRE(summary.notes.size() == 1);
    CHECK_THAT(summary.notes[0], Contains("was corrected by entry " + std::to_string(head)));
    CHECK(season.now().costs.at(0).amount == quantity::money{20'000});
    // The file with the corrected value is equal to what is in force.
    CHECK(season
              .take(kind::cost, "cost,date,category,description,amount,fund\n"
                                "C1,2026-05-03,personnel,sorting,200.00,grant\n")
              .notes.empty());
    CHECK(season.head() == head);
}

TEST_CASE("a voided row of a re-taken file stays voided") {
    changed_season season;
    season.take_out(kind::cost, {"C1"});
    const auto head = season.head();
    const auto summary = season.take(kind::cost, base_files().at("costs.csv"));
    CHECK(summary.known == 1);
    REQUIRE(summary.notes.size() == 1);
    CHECK_THAT(summary.notes[0], Contains("was voided by entry " + std::to_string(head)));
    CHECK(season.now().costs.empty());
    CHECK(season.head() == head);
    const auto lines = season.refusals(kind::cost, "cost,date,category,description,amount,fund\n"
                                                   "C1,2026-05-03,personnel,sorting,7,grant\n");
    REQUIRE(lines.size() == 1);
    CHECK_THAT(lines[0], StartsWith("costs.csv:2:cost: cost C1 was voided") && Contains("tarewell correct cost C1"));
}
