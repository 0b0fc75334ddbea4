#include "base_season.hpp"
#include "clerk.hpp"
#include "desk/next_id.hpp"
#include "desk/registering.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using strings = std::vector<std::string>;

namespace {

/// The quiet season in the sample's pattern of ids, with what tells growers apart.
class call_clerk : public clerk {
  public:
    call_clerk() {
        auto files = quiet_season();
        files["growers.csv"] = "grower,name,farm,town,region,email,phone\n"
                               "G1,Ruth Ames,Hollow Farm,Wend,KB,ruth@example.org,555-0100\nG2,Ib Orn,,,KB,,555-0102\n";
        files["sites.csv"] = "site,name,town,host,opens,closes\nS1,Old Creamery,Wend,Wend Grange,08:00,12:30\n"
                             "S2,Nursery lot,Aldwend,,,\nS3,Mill yard,Fen,,,\n";
        take(files);
    }
    /// What a person at a terminal answers, question after question.
    answered asked(const strings& arguments, std::vector<bool> says, strings& questions) {
        std::ostringstream out, err;
        cli::context with{out,
                          err,
                          true,
                          [&](const std::string& name) { return environment[name]; },
                          {standing_still().now, standing_still().random, ""}};
        with.ask = [&](const std::string& question) {
            questions.push_back(question);
            const bool yes = says.front();
            says.erase(says.begin());
            return yes;
        };
        const int code = cli::run(arguments, with);
        return {code, out.str(), err.str()};
    }
};

} // namespace

TEST_CASE("a call becomes a grower, a registration and its bundles in one deed", "[register]") {
    call_clerk at;
    const auto before = at.head();
    const auto done = at.run({"register", "Thea Garrowby", "--town", "Fen", "--phone", "555-0144", "--site", "creamery",
                              "--cover", "96x30", "--mil", "6", "--structure", "high_tunnel", "--date", "2026-06-05"});
    CAPTURE(done.err);
    REQUIRE(done.code == cli::done);
    CHECK(done.err == "site S1 (Old Creamery)\n");
    // The weight and the plan are those of `tarewell estimate` for this cover: README.md's first example.
    CHECK(done.out ==
          fmt::format("registered by entries {} to {}\n"
                      "new grower G3 (Thea Garrowby), site S1 (Old Creamery)\n"
                      "R3: 1 cover, 3 bundles, claims 124.057 lb (thickness)\n"
                      "labels:\n"
                      "  B6      41.353 lb  Thea Garrowby, 1 of 3\n"
                      "  B7      41.352 lb  Thea Garrowby, 2 of 3\n"
                      "  B8      41.352 lb  Thea Garrowby, 3 of 3\n"
                      "tell the grower: Old Creamery, Wend, 08:00 to 12:30; host: Wend Grange; write the "
                      "label on each bundle\n"
                      "Lift bundles with help; cut off and leave out soiled edges, staples, twine and lath.\n",
                      before + 1, before + 5));
    CHECK(at.head() == before + 5);
    const auto growers = at.run({"list", "growers", "--json"}).json();
    CHECK(growers.back()["phone"] == "555-0144");
    CHECK(growers.back()["region"] == "KB");
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
    CHECK_THAT(at.must({"ledger", "history", "cover", "R3"}), Contains("record cover"));
}

TEST_CASE("several covers make one registration; what is given once holds for all of them", "[register]") {
    call_clerk at;
    const auto said = at.run({"register", "Ruth Ames", "--site", "S1", "--cover", "96x30", "--cover", "48 x 30 ft",
                              "--layers", "2", "--mil", "6", "--mil", "", "--json"})
                          .json();
    CHECK(said["grower"] == "G1");
    CHECK(said["new_grower"] == false);
    const auto covers = at.run({"list", "covers", "--grower", "G1", "--from", said["date"], "--json"}).json();
    REQUIRE(covers.size() == 2);
    CHECK(covers[0]["layers"] == "2");
    CHECK(covers[1]["layers"] == "2");
    CHECK(covers[0]["mil"] == "6");
    CHECK(covers[1]["mil"].is_null());
    CHECK(covers[1]["length_ft"] == "48");
    CHECK_THAT(at.run({"register", "Ib Orn", "--site", "S1", "--cover", "9x9", "--cover", "9x9", "--cover", "9x9",
                       "--mil", "6", "--mil", "4"})
                   .err,
               Contains("--mil is given 2 times and --cover 3 times"));
}

TEST_CASE("a count of bundles alone claims the usual weight of each, which stays a question", "[register]") {
    call_clerk at;
    at.must({"settings", "set", "bundle_aim_lb", "45", "--why", "lighter film"});
    const auto said =
        at.run({"register", "Ib Orn", "--site", "Mill yard", "--bundles", "5", "--date", "2026-06-05", "--json"})
            .json();
    CHECK(said["claim"] == "225.000");
    CHECK(said["by_count"] == true);
    CHECK(said["basis"] == "own");
    CHECK(said["bundles"].size() == 5);
    CHECK(said["bundles"][4]["label"] == "Ib Orn, 5 of 5");
    REQUIRE(said["doubts"].size() == 1);
    CHECK(said["doubts"][0]["level"] == "question");
    CHECK(said["doubts"][0]["sentence"] ==
          "Registration R3 has no sizes: each of its bundles claims the usual 45 lb; ask "
          "the grower for the covers' length, width and layers.");
    CHECK_THAT(at.run({"flags", "--code", "claimed-by-count"}).out, Contains("Registration R3 has no sizes"));
    // C: 96 x 30 x 1.5 x 0.04 = 172.8 lb, 48 x 30 x 1.5 x 0.04 = 86.4 lb; 259.2 lb in five bundles.
    const std::vector<std::string> sizes{"register", "--sizes", "R3",    "--cover", "96x30",
                                         "--cover",  "48x30",   "--why", "measured"};
    auto half = sizes; // the second cover is refused: the first stays as it was
    half.insert(half.end(), {"--layers", "1", "--layers", "none"});
    const auto head = at.head();
    CHECK(at.run(half).code == cli::bad_input);
    CHECK(at.head() == head);
    auto for_machines = sizes;
    for_machines.emplace_back("--json");
    const auto told = at.run(for_machines).json();
    CHECK(told["claim"] == "259.200");
    CHECK(told["basis"] == "constant");
    CHECK(told["bundles"][0]["claim"] == "51.840");
    CHECK(at.run({"list", "covers", "--words", "R3", "--json"}).json().size() == 2);
    CHECK_THAT(at.must(sizes), Contains("nothing was changed"));
    CHECK(at.run({"register", "--sizes", "R3", "--cover", "96x30"}).code == cli::usage); // why?
    CHECK_THAT(at.must({"ledger", "check"}), StartsWith("OK"));
    CHECK(at.run({"flags", "--code", "claimed-by-count"}).code == cli::done); // sizes came
    CHECK_THAT(at.run({"register", "Ib Orn", "--site", "S1"}).err,
               Contains("give the covers' sizes (--cover 96x30), or how"));
    CHECK_THAT(at.run({"register", "Ib Orn", "--site", "S1", "--bundles", "0"}).err,
               Contains("'0' is no number of bundles"));
}

TEST_CASE("own estimates that are not the usual weight are no guess", "[register]") {
    clerk at; // R2 of the base season: no sizes, claims of 40 and 41.5 lb
    at.take(base_files());
    CHECK(at.run({"flags", "--code", "claimed-by-count"}).code == cli::done);
}

TEST_CASE("a caller is matched by id, whole name, e-mail or telephone", "[register]") {
    for (const auto* who : {"G1", "ruth  AMES", "ruth@example.org", "555 0100"}) {
        CAPTURE(who);
        call_clerk at;
        CHECK(at.run({"register", who, "--site", "S1", "--bundles", "1", "--json"}).json()["grower"] == "G1");
    }
}

TEST_CASE("a caller who may be a known grower is refused under a pipe, and recorded once a person has said who",
          "[register]") {
    call_clerk at;
    const auto head = at.head();
    const auto refused = [&](const strings& more, const char* what) {
        strings all{"register"};
        all.insert(all.end(), more.begin(), more.end());
        all.insert(all.end(), {"--site", "S1", "--bundles", "2"});
        const auto done = at.run(all);
        CAPTURE(more, done.out, done.err);
        CHECK(done.code == cli::bad_input);
        CHECK_THAT(done.err, Contains(what));
        CHECK(at.head() == head);
    };
    refused({"Ruth Aims"}, "G1  Ruth Ames, Hollow Farm"); // a slip of the pen
    refused({"Ruth"}, "name the grower with --grower ID, or say --new-grower");
    refused({"R. Ames", "--phone", "(555) 0100"}, "G1  Ruth Ames"); // the same telephone
    refused({"R. Ames", "--email", "Ruth@example.org"}, "G1  Ruth Ames");
    refused({"Ruth Ames", "--phone", "555-0199"}, "G1  Ruth Ames"); // one name, another number
    refused({"555-0199"}, "a new grower is registered by name");
    refused({"G7"}, "no grower 'G7' is defined");
    CHECK(at.run({"register", "Ruth Aims", "--grower", "G1", "--site", "S1", "--bundles", "2", "--json"})
              .json()["grower"] == "G1");
    CHECK(at.run({"register", "Ruth Aims", "--new-grower", "--site", "S1", "--bundles", "2", "--json"})
              .json()["grower"] == "G3");
}

TEST_CASE("a person at a terminal is asked who it is", "[register]") {
    call_clerk at;
    strings questions;
    const strings call{"register", "Ruth Aims", "--site", "S1", "--bundles", "2"};
    CHECK_THAT(at.asked(call, {true}, questions).out, Contains("\ngrower G1 (Ruth Ames)"));
    CHECK(questions == strings{"Is this grower G1 (Ruth Ames, Hollow Farm), Wend, 555-0100?"});
    questions.clear();
    CHECK_THAT(at.asked(call, {false, true}, questions).out, Contains("\nnew grower G3 (Ruth Aims)"));
    CHECK(questions[1] == "Is Ruth Aims a new grower?");
    const auto head = at.head();
    const auto neither =
        at.asked({"register", "Ruth Eims", "--site", "S1", "--bundles", "2"}, {false, false, false}, questions);
    CHECK(neither.code == cli::findings);
    CHECK_THAT(neither.err, Contains("nothing was changed"));
    CHECK(at.head() == head);
}

TEST_CASE("the same call typed twice is refused, unless it is said to be another", "[register]") {
    call_clerk at;
    const strings call{"register", "Ib Orn", "--site", "S1", "--bundles", "2"};
    at.must(call);
    const auto head = at.head();
    const auto twice = at.run(call);
    CHECK(twice.code == cli::bad_input);
    CHECK_THAT(twice.err, Contains("is a registration of grower G2 for site S1 already; say --again"));
    CHECK(at.head() == head);
    auto again = call;
    again.emplace_back("--again");
    CHECK_THAT(at.must(again), Contains("\nR4: 2 bundles"));
    const strings once{"register", "Ib Orn", "--site", "S2", "--bundles", "1", "--once", "form row 7"};
    at.must(once);
    CHECK_THAT(at.must(once), Contains("done before"));
}

TEST_CASE("a call with a fault records nothing at all", "[register]") {
    call_clerk at;
    const auto head = at.head();
    for (const auto& call :
         std::vector<strings>{{"register", "Nia Holt", "--site", "S1", "--cover", "96x30", "--mil", "six"},
                              {"register", "Nia Holt", "--site", "S1", "--cover", "96"},
                              {"register", "Nia Holt", "--site", "S9", "--bundles", "2"},
                              {"register", "Nia Holt", "--site", "S1", "--date", "5 June", "--bundles", "2"},
                              {"register", "Nia Holt", "--site", "S1", "--region", "XX", "--bundles", "2"}}) {
        CAPTURE(call);
        const auto done = at.run(call);
        CHECK(done.code == cli::bad_input);
        CHECK_FALSE(done.err.empty());
        CHECK(at.head() == head);
    }
}

TEST_CASE("ids go on in the ledger's own pattern", "[register]") {
    using desk::id_after;
    CHECK(id_after({}, "R001") == "R001");
    CHECK(id_after({"R001", "R143", "R009"}, "R001") == "R144");
    CHECK(id_after({"R999"}, "R001") == "R1000");
    CHECK(id_after({"KB-26-01", "KB-26-02", "X7"}, "R001") == "KB-26-03");
    CHECK(id_after({"alpha", "beta"}, "R001") == "R001");
    call_clerk at;
    at.must({"record", "cover", "--registration", "R3", "--date", "2026-06-01", "--grower", "G1", "--site", "S1",
             "--cover", "1"});
    at.must({"void", "cover", "R3", "--why", "typed twice"});
    CHECK(at.run({"register", "Ib Orn", "--site", "S1", "--bundles", "1", "--json"}).json()["registration"] == "R4");
}

TEST_CASE("a cover's size is read as people write it", "[register]") {
    for (const auto* text : {"96x30", "96 x 30", "96X30", "96 by 30", "96' x 30'", "96 ft x 30 ft"}) {
        CAPTURE(text);
        const auto cover = desk::cover_of_size(text);
        CHECK(cover.length == "96");
        CHECK(cover.width == "30");
        CHECK(cover.rise.empty());
    }
    CHECK(desk::cover_of_size("96x30x12.5").rise == "12.5");
    for (const auto* text : {"96", "96x", "x", "axb", "1x2x3x4", ""})
        CHECK_THROWS_AS(desk::cover_of_size(text), records::input_error);
}

TEST_CASE("a count that nobody knows is planned by the covers' sizes and asked about; without sizes it is refused",
          "[register]") {
    call_clerk at;
    const auto done = at.run({"register", "Thea Garrowby", "--site", "S1", "--cover", "96x30", "--mil", "6",
                              "--bundles", "don't know", "--date", "2026-06-05"});
    REQUIRE(done.code == cli::done);
    CHECK_THAT(done.out,
               Contains("R3: 1 cover, 3 bundles") &&
                   Contains("question: 'don't know' is no number of bundles: 3 are planned by the covers' sizes; "
                            "ask how many there are."));
    CHECK(at.run({"register", "Thea Garrowby", "--site", "S1", "--cover", "96x30", "--bundles", "3 or 4"}).code ==
          cli::bad_input);
    const auto refused = at.run({"register", "Ib Orn", "--site", "S1", "--bundles", "some"});
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err, Contains("or give the covers' sizes, by which they are planned"));
}
