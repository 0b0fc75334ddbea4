#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "terminal.hpp"
#include "figures/closing.hpp"
#include "figures/soundness.hpp"
#include "ledger/sqlite_engine.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

const std::string asked = "asked by the grower on 2026-11-02";

/// The base season with a grower whose details stand in two entries.
struct peopled_basin : base_season {
    peopled_basin() {
        take_all();
        intake::record(ledger(), kind::grower,
                       {{"grower", "G3"},
                        {"name", "Zenobia Thackeray"},
                        {"farm", "Larkspur Acres"},
                        {"town", "Wend"},
                        {"region", "KB"},
                        {"email", "zenobia@example.org"},
                        {"phone", "555-0177"}},
                       around());
        intake::record(ledger(), kind::cover,
                       {{"registration", "R3"},
                        {"date", "2026-05-03"},
                        {"grower", "G3"},
                        {"site", "S1"},
                        {"cover", "1"},
                        {"length_ft", "96"},
                        {"width_ft", "30"},
                        {"layers", "1"}},
                       around());
        intake::record(ledger(), kind::bundle, {{"bundle", "B9"}, {"registration", "R3"}, {"number", "1"}, {"of", "1"}},
                       around());
        intake::record(
            ledger(), kind::receipt,
            {{"receipt", "RC9"}, {"date", "2026-05-20"}, {"site", "S1"}, {"bundle", "B9"}, {"outcome", "accepted"}},
            around());
        intake::correct(ledger(), kind::grower, {"G3"}, {{"phone", "555-0178"}}, "new number", around());
    }
    records::entry_no erase(const std::string& grower = "G3") {
        return intake::erase_contact(ledger(), grower, asked, around());
    }
    [[nodiscard]] std::vector<std::string> findings() { return figures::unsound_in(ledger()); }
    std::string figures_text() {
        const auto report = figures::view_period(ledger(), {2026, 2}, head()).report;
        std::string text = figures::filed_text(report);
        for (const auto& figure : report.figures)
            text += std::to_string(figure.rows) + " ";
        return text;
    }
};

} // namespace

TEST_CASE("an erasure leaves ids, weights, figures and the chain, and is an entry of the journal") {
    peopled_basin basin;
    const auto before = basin.figures_text();
    const auto head = basin.ledger().head();
    const auto entry = basin.erase();
    CHECK(entry == head.seq + 1);
    CHECK(basin.figures_text() == before);
    CHECK(basin.findings() == std::vector<std::string>{});
    CHECK(basin.ledger().head_at(head.seq).hash == head.hash);
    const auto season = load_season(basin.ledger(), basin.head());
    const auto& grower = season.at(season.find_grower("G3"));
    CHECK(grower.erased);
    CHECK(grower.name.find("Zenobia") == std::string::npos);
    CHECK(grower.region == "KB");
    CHECK(grower.town == "Wend");
    std::string journal;
    basin.ledger().for_each_journal_entry(entry, entry, [&](const ledger::journal_entry& each) {
        journal = fmt::format("{} {} {} {}: {}", each.who, each.command, each.kind, each.deed, each.reason);
    });
    CHECK(journal == "Ruth Ames erase contact erasure erase: " + asked);
}

TEST_CASE("what was erased is not in the file's bytes any more, in none of its entries") {
    peopled_basin basin;
    const std::vector<std::string> personal{"Zenobia",  "Thackeray", "Larkspur", "zenobia@example.org",
                                            "555-0177", "555-0178"};
    const auto before = bytes_in(basin.ledger().path());
    for (const auto& text : personal) {
        CAPTURE(text);
        CHECK(before.find(text) != std::string::npos);
    }
    basin.erase();
    const auto after = bytes_in(basin.ledger().path());
    for (const auto& text : personal) {
        CAPTURE(text);
        CHECK(after.find(text) == std::string::npos);
    }
    CHECK(after.find("ruth@example.org") != std::string::npos); // nobody else's
    const auto backup = basin.folder().file("backup.tarewell");
    ledger::back_up(basin.ledger(), backup);
    CHECK(bytes_in(backup).find("Zenobia") == std::string::npos);
}

TEST_CASE("an erasure twice changes nothing, and one of nobody or without a reason is refused") {
    peopled_basin basin;
    basin.erase();
    const auto head = basin.head();
    CHECK(basin.erase() == 0);
    CHECK(basin.head() == head);
    CHECK_THAT(message_of<records::input_error>([&] { basin.erase("G99"); }), Contains("no grower 'G99' is defined"));
    CHECK_THAT(
        message_of<records::input_error>([&] { intake::erase_contact(basin.ledger(), "G1", "", basin.around()); }),
        Contains("--why is empty"));
    CHECK(basin.head() == head);
    const terminal at{basin.ledger().path()};
    CHECK(at.done({"growers", "erase", "G3", "--why", "again"}) == "nothing was left to erase\n");
    CHECK(at.tell({"growers", "erase", "G99", "--why", "again"}).code == cli::bad_input);
}

TEST_CASE("the old growers' file taken in again does not bring back what was erased") {
    peopled_basin basin;
    intake::erase_contact(basin.ledger(), "G1", asked, basin.around());
    const auto head = basin.head();
    const auto summary = basin.take(kind::grower, base_files().at("growers.csv"));
    CHECK(summary.taken == 0);
    CHECK(summary.known == 2);
    REQUIRE(summary.notes.size() == 1);
    CHECK_THAT(summary.notes[0], Contains("erased"));
    CHECK(basin.head() == head);
    CHECK(bytes_in(basin.ledger().path()).find("ruth@example.org") == std::string::npos);
    CHECK(basin.take_all().size() == base_files().size()); // the whole folder too
    CHECK(basin.head() == head);
    CHECK(bytes_in(basin.ledger().path()).find("ruth@example.org") == std::string::npos);
    CHECK(basin.findings() == std::vector<std::string>{});
}

TEST_CASE("after an erasure other records of the grower can still be recorded, corrected and voided") {
    peopled_basin basin;
    basin.erase();
    intake::correct(basin.ledger(), kind::cover, {"R3", "1"}, {{"film", "clear"}}, "looked again", basin.around());
    intake::void_record(basin.ledger(), kind::receipt, {"RC9"}, "entered twice", basin.around());
    intake::correct(basin.ledger(), kind::site, {"S1"}, {{"name", "Grange hall"}}, "renamed", basin.around());
    CHECK(basin.findings() == std::vector<std::string>{});
}

TEST_CASE("contact details lost or changed without an erasure, and left behind by one, are found") {
    peopled_basin basin;
    basin.erase();
    const auto path = basin.ledger().path();
    const auto whole = bytes_in(path);
    const auto findings_after = [&](const std::string& sql) {
        (void)basin.folder().write("basin.tarewell", whole);
        SQLite::Database{path, SQLite::OPEN_READWRITE}.exec(
            "CREATE TEMP TABLE kept AS SELECT sql FROM sqlite_schema WHERE name = 'contact_only_erased'; DROP TRIGGER "
            "contact_only_erased; " +
            sql);
        std::string all;
        for (const auto& each : figures::unsound_in(ledger::ledger_file::open(path)))
            all += each + "\n";
        return all;
    };
    CHECK_THAT(findings_after("UPDATE contact SET email = 'other@example.org' WHERE name = 'Ruth Ames'"),
               Contains("differ from their digest"));
    CHECK_THAT(findings_after("UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL"),
               Contains("without an erasure in the journal"));
    for (const auto* column : {"name", "farm", "email", "phone", "salt"}) {
        CAPTURE(column);
        CHECK_THAT(findings_after(fmt::format("UPDATE contact SET {} = 'x' WHERE salt IS NULL", column)),
                   Contains("should have been erased and was not"));
    }
}

TEST_CASE("growers are exported with contact details by those who ask, and an erased one without") {
    peopled_basin basin;
    const terminal at{basin.ledger().path()};
    const auto file = basin.folder().file("out.csv");
    CHECK_THAT(at.done({"growers", "export", file}), Contains("wrote 3 growers"));
    CHECK_THAT(bytes_in(file), Contains("G3,Zenobia Thackeray,Larkspur Acres,Wend,KB,zenobia@example.org,555-0178\n"));
    basin.erase();
    (void)at.done({"growers", "export", file});
    CHECK_THAT(bytes_in(file), Contains("G3,,,Wend,KB,,\n"));
}
