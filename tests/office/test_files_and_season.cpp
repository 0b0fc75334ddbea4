#include "visitor.hpp"

#include "figures/flags.hpp"
#include "render/page_parts.hpp"

#include <regex>
#include <thread>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// What the kept season says is what the file says, read anew.
void is_as_read_anew(visitor& v) {
    const auto& kept = v.page.kept.season();
    const desk::season_view anew{v.page.kept.opened()};
    CHECK(kept.head.seq == anew.head.seq);
    CHECK(kept.as_of == anew.as_of);
    const auto sentences = [](const std::vector<reconcile::flag>& flags) {
        std::vector<std::string> told;
        for (const auto& each : flags)
            told.push_back(std::string{each.code} + " " + each.sentence);
        return told;
    };
    CHECK(sentences(v.page.kept.flags()) == sentences(figures::flags_of(anew.season, anew.reckoning)));
    REQUIRE(kept.reckoning.bales.size() == anew.reckoning.bales.size());
    for (std::size_t i = 0; i < anew.reckoning.bales.size(); ++i) {
        CHECK(kept.reckoning.bales[i].estimate == anew.reckoning.bales[i].estimate);
        CHECK(kept.reckoning.bales[i].weighed.has_value() == anew.reckoning.bales[i].weighed.has_value());
    }
    REQUIRE(kept.season.registrations.size() == anew.season.registrations.size());
    for (std::size_t i = 0; i < anew.season.registrations.size(); ++i)
        CHECK(kept.season.registrations[i].grower == anew.season.registrations[i].grower);
    CHECK(kept.season.days_of_entry.size() == anew.season.days_of_entry.size());
}

using fields = std::vector<std::pair<std::string, std::string>>;

} // namespace

TEST_CASE("the season that stays loaded is the one in the file, whoever records and in whatever order", "[office]") {
    visitor v;
    (void)v.get("/");
    CHECK(v.post("/enter", visitor::ticket("T3", "110")).status == 303);
    is_as_read_anew(v);
    // An earlier kind after a later one, by a terminal and by the page.
    v.must({"record", "grower", "--grower", "G7", "--name", "Ola Fenn", "--region", "KB"});
    CHECK(v.post("/enter", fields{{"kind", "cover"},
                                  {"registration", "R7"},
                                  {"date", "2026-05-06"},
                                  {"grower", "G7"},
                                  {"site", "S1"},
                                  {"cover", "1"},
                                  {"length_ft", "48"},
                                  {"width_ft", "30"},
                                  {"layers", "1"}})
              .status == 303);
    is_as_read_anew(v);
    v.must({"record", "bundle", "--bundle", "B7", "--registration", "R7", "--number", "1", "--of", "1"});
    v.must({"record", "merge", "--grower", "G7", "--into", "G1", "--reason", "one person"});
    is_as_read_anew(v);
    // A registration for who counts as another, after the merge.
    v.must({"record", "cover", "--registration", "R8", "--date", "2026-05-07", "--grower", "G7", "--site", "S1",
            "--cover", "1", "--length_ft", "48", "--width_ft", "30", "--layers", "1"});
    is_as_read_anew(v);
    // What can't be added is read anew: a correction, a void, an erasure.
    v.must({"correct", "ticket", "T3", "--net", "111", "--why", "misread", "--yes"});
    is_as_read_anew(v);
    v.must({"void", "ticket", "T3", "--why", "typed twice"});
    is_as_read_anew(v);
    v.must({"growers", "erase", "G7", "--why", "asked"});
    is_as_read_anew(v);
    CHECK(v.page.kept.season().season.growers.back().name.empty());
    // Looked at, held back, and then recorded by another: what was looked at is not shown.
    auto looked = visitor::ticket("T4", "120");
    looked.emplace_back("look", "1");
    CHECK(v.post("/enter", looked).status == 200);
    v.must({"record", "grower", "--grower", "G8", "--name", "Nia Holt", "--region", "KB"});
    is_as_read_anew(v);
}

TEST_CASE("the first form of a kind proposes the next id, today and where the last was; a net left empty is worked out",
          "[office]") {
    visitor v;
    const auto shown = v.get("/enter?kind=ticket").body;
    CHECK(hidden(shown, "once").size() >= 16);
    CHECK_THAT(shown, holds("name=\"ticket\" type=\"text\" value=\"T3\"") &&
                          holds("name=\"scale\" type=\"text\" value=\"P1\"") &&
                          holds("value=\"" + v.page.around.now().substr(0, 10) + "\""));
    auto sent = visitor::ticket("T3", "");
    sent.emplace_back("gross", "150.5");
    sent.emplace_back("tare", "40");
    CHECK(v.post("/enter", sent).status == 303);
    CHECK_THAT(v.get("/record?kind=ticket&id=T3").body, holds("<dd>110.5</dd>"));
}

TEST_CASE("the audit is worked out apart: others are answered meanwhile, and the page looks again by itself",
          "[office]") {
    visitor v;
    const auto tolerance = std::string{"/audit?tolerance=20%25"};
    auto told = v.get(tolerance);
    for (int i = 0; i < 600 && told.body.find("being worked out") != std::string::npos; ++i) {
        const auto refresh = std::find_if(told.headers.begin(), told.headers.end(),
                                          [](const auto& each) { return each.first == "refresh"; });
        CHECK(refresh != told.headers.end());
        CHECK(v.get("/find").status == 200);
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
        told = v.get(tolerance);
    }
    CHECK(told.status == 200);
    CHECK_THAT(told.body, holds("In words") && holds("value=\"20 %\""));
    CHECK(v.get("/audit?tolerance=nonsense").status == 422);
    auto wrong = v.get("/audit?quarter=never");
    for (int i = 0; i < 600 && wrong.status == 200; ++i) {
        std::this_thread::sleep_for(std::chrono::milliseconds{20});
        wrong = v.get("/audit?quarter=never");
    }
    CHECK(wrong.status == 422);
}

TEST_CASE("an import is taken back by its act, unless something stands on it", "[office]") {
    visitor v;
    const auto seen = v.send_file("/files", {{"kind", ""}}, "growers-may.csv", "grower,name,region\nG7,Ola Fenn,KB\n");
    CHECK_THAT(seen.body, holds("row 2: ") && holds("Ola Fenn"));
    const auto done = v.post("/files", {{"waiting", hidden(seen.body, "waiting")}});
    std::smatch found;
    REQUIRE(std::regex_search(done.body, found, std::regex{"/undo\\?act=([0-9]+)"}));
    const auto act = found[1].str();
    CHECK_THAT(v.get("/acts").body, holds("/undo?act=" + act) && holds("growers-may.csv"));
    CHECK_THAT(v.get("/undo?act=" + act).body, holds("Grower G7") && holds("<button"));
    v.must({"record", "cover", "--registration", "R7", "--date", "2026-05-06", "--grower", "G7", "--site", "S1",
            "--cover", "1"});
    CHECK_THAT(v.get("/undo?act=" + act).body, holds("later records stand on it") && !holds("name=\"why\""));
    CHECK(v.post("/undo", {{"act", act}, {"why", "the wrong file"}}).status == 422);
    v.must({"void", "cover", "R7", "--why", "typed twice"});
    const auto head = v.head();
    CHECK(v.post("/undo", {{"act", act}, {"why", ""}}).status == 422);
    CHECK(v.head() == head);
    CHECK_THAT(v.post("/undo", {{"act", act}, {"why", "the wrong file"}}).body, holds("1 record is voided"));
    CHECK(v.get("/undo?act=nothing").status == 422);
    CHECK(v.get("/undo?act=99999").status == 422);
}

TEST_CASE("two growers that are one person are counted as one from the grower's page", "[office]") {
    visitor v;
    v.must({"record", "grower", "--grower", "G7", "--name", "Ruth Amis", "--region", "KB"});
    CHECK_THAT(v.get("/record?kind=grower&id=G7").body, holds("action=\"/merge\""));
    CHECK(v.post("/merge", {{"gone", "G7"}, {"kept", "G1"}, {"why", ""}}).status == 422);
    CHECK(v.post("/merge", {{"gone", "G7"}, {"kept", "nobody"}, {"why", "told"}}).status == 422);
    CHECK_THAT(v.post("/merge", {{"gone", "G7"}, {"kept", "G1"}, {"why", "told"}}).body, holds("merged by entry"));
    CHECK(v.page.kept.season().season.merges.size() == 1);
}

TEST_CASE("the evidence folder comes as one .zip", "[office]") {
    visitor v;
    const auto given = v.get("/evidence?quarter=2026-Q2");
    CHECK(given.status == 200);
    CHECK(given.type == "application/zip");
    CHECK(given.body.substr(0, 4) == "PK\x03\x04");
    CHECK_THAT(given.body, holds("2026-Q2-evidence/journal.csv") && holds("2026-Q2-evidence/manifest.sha256"));
    CHECK(v.get("/evidence?quarter=2026-Q2").body == given.body);
    CHECK(v.get("/evidence?quarter=..%2F..").status == 422);
}

TEST_CASE("somebody else's sheet: a map is proposed, tried, kept, and the next sheet goes by it", "[office]") {
    visitor v;
    const auto head = v.head();
    const std::string sheet = "Grower no.;Full name;Area\nG7;Ola Fenn;KB\nG8;Tam Orr;KB\n";
    const auto proposed = v.send_file("/files", {{"kind", "grower"}, {"layout", "propose"}}, "export.csv", sheet);
    CHECK(proposed.status == 200);
    CHECK_THAT(proposed.body, holds("<textarea") && holds("separator"));
    const auto waiting = hidden(proposed.body, "waiting");
    const std::string rules =
        "separator = \"semicolon\"\n[growers]\ngrower = \"{Grower no.}\"\nname = \"{Full name}\"\n"
        "region = \"{Area}\"\n";
    const auto tried = v.post("/map", {{"waiting", waiting}, {"map", "club"}, {"text", rules}, {"do", "try"}});
    CHECK_THAT(tried.body, holds("grower G7: name Ola Fenn, region KB") && holds("Keep the map and import"));
    const auto bad =
        v.post("/map", {{"waiting", waiting}, {"map", "club"}, {"text", "nonsense = \"1\"\n"}, {"do", "import"}});
    CHECK(bad.status == 422);
    CHECK_THAT(bad.body, holds("nonsense"));
    const auto lacking = v.post("/map", {{"waiting", waiting},
                                         {"map", "club"},
                                         {"text", rules + "[words]\ngrowers.town = \"F=Fen\"\n"},
                                         {"do", "try"}});
    CHECK_THAT(lacking.body, holds("words.growers.town: the words for &quot;Town&quot; of a grower") &&
                                 holds("data-line=\"7\">Line 7 of the map</a>") && holds("aria-invalid=\"true\""));
    CHECK_THAT(
        v.post("/map", {{"waiting", waiting}, {"map", "club"}, {"text", rules.substr(rules.find('['))}, {"do", "try"}})
            .body,
        !holds("--set"));
    CHECK(v.head() == head);
    const auto done = v.post("/map", {{"waiting", waiting}, {"map", "club"}, {"text", rules}, {"do", "import"}});
    CHECK_THAT(done.body, holds("2 records recorded") && holds("/undo?act="));
    CHECK_THAT(v.get("/files").body, holds("by the map club"));
    CHECK_THAT(v.get("/map?name=club").body, holds("{Full name}") && holds("Keep the map"));
    const auto next = v.send_file("/files", {{"kind", ""}, {"layout", "map-club"}}, "more.csv",
                                  "Grower no.;Full name;Area\nG9;Ida Quill;XX\n");
    CHECK_THAT(next.body, holds("can&#39;t be imported") || holds("can't be imported"));
    CHECK(v.get("/map?name=none").status == 422);
}
