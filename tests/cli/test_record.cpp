#include "typed.hpp"

#include <catch2/catch.hpp>

#include <algorithm>
#include <set>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using strings = std::vector<std::string>;

namespace {

struct one_record {
    const char* kind;
    strings flags;
};

/// A row of each kind, in an order in which each names only what is there.
const std::vector<one_record>& a_row_of_each() {
    static const std::vector<one_record> rows{
        {"award",
         {"--award",  "KB-26",      "--agency",        "Basin Agency", "--program",    "Film", "--region",         "KB",
          "--begins", "2026-01-01", "--ends",          "2026-12-31",   "--goal_tons",  "30",   "--quarter_starts", "1",
          "--unit",   "lb",         "--match_percent", "20",           "--match_base", "total"}},
        {"site", {"--site", "S1", "--name", "Old Creamery", "--opens", "08:30", "--closes", "16:00"}},
        {"site", {"--site", "S2", "--name", "Nursery lot"}},
        {"grower", {"--grower", "G1", "--name", "Ruth Ames", "--region", "KB", "--email", "ruth@example.org"}},
        {"grower", {"--grower", "G2", "--name", "Ruth Aims", "--region", "KB"}},
        {"scale", {"--scale", "P1", "--class", "III", "--capacity", "5000", "--division", "1", "--unit", "lb"}},
        {"cover",
         {"--registration", "R1", "--date", "2026-05-01", "--grower", "G1", "--site", "S1", "--cover", "1",
          "--length_ft", "96", "--width_ft", "30", "--layers", "1"}},
        {"bundle", {"--bundle", "B1", "--registration", "R1", "--number", "1", "--of", "1"}},
        {"receipt",
         {"--receipt", "RC1", "--date", "2026-05-10", "--site", "S1", "--registration", "R1", "--number", "1",
          "--outcome", "accepted"}},
        {"haul",
         {"--haul", "H1", "--date", "2026-05-15", "--from", "S1", "--to", "S2", "--bundle", "B1", "--driver", "Ola"}},
        {"bale", {"--bale", "L1", "--date", "2026-05-20", "--site", "S2", "--bundle", "B1"}},
        {"ticket",
         {"--ticket", "T1",  "--date", "2026-05-21", "--scale", "P1",  "--weighs", "bale", "--subject", "L1",
          "--gross",  "200", "--tare", "40",         "--net",   "160", "--unit",   "lb",   "--entry",   "printed"}},
        {"shipment", {"--shipment", "SH1", "--date", "2026-05-25", "--processor", "Fen Polymer", "--bale", "L1"}},
        {"acceptance", {"--shipment", "SH1", "--date", "2026-06-01", "--weight", "155", "--unit", "lb"}},
        {"reject",
         {"--reject", "J1", "--date", "2026-05-30", "--stage", "processor", "--bale", "L1", "--weight", "5", "--unit",
          "lb", "--reason", "twine"}},
        {"budget", {"--category", "personnel", "--grant", "5900", "--match", "900"}},
        {"cost",
         {"--cost", "C1", "--date", "2026-05-03", "--category", "personnel", "--description", "sorting", "--amount",
          "100.50", "--fund", "grant"}},
        {"inkind",
         {"--inkind", "I1", "--date", "2026-05-04", "--kind", "hours", "--giver", "Ola", "--quantity", "2", "--rate",
          "31.80"}},
        {"setting", {"--setting", "curvature_factor", "--from", "2026-06-01", "--value", "1.6"}},
        {"amendment",
         {"--amendment", "A1", "--date", "2026-06-15", "--ends", "2027-03-31", "--description", "more time"}},
        {"rebudget", {"--amendment", "A1", "--category", "travel", "--grant", "500", "--match", "0"}},
        {"rate",
         {"--rate", "RT1", "--kind", "hours", "--begins", "2026-01-01", "--value", "31.80", "--source", "pay scale"}},
        {"obligation",
         {"--obligation", "OB1", "--date", "2026-05-01", "--category", "travel", "--description", "van", "--amount",
          "80", "--fund", "grant"}},
        {"liquidation",
         {"--liquidation", "LQ1", "--date", "2026-05-03", "--obligation", "OB1", "--amount", "30", "--cost", "C1"}},
        {"income",
         {"--income", "IN1", "--date", "2026-06-02", "--kind", "earned", "--method", "addition", "--description",
          "bales sold", "--amount", "12.40"}},
        {"request", {"--request", "RQ1", "--date", "2026-06-03", "--cost", "C1", "--indirect", "10.05"}},
        {"payment",
         {"--payment", "PY1", "--date", "2026-06-20", "--kind", "reimbursement", "--amount", "99.50", "--request",
          "RQ1", "--retained", "11.05"}},
        {"narrative", {"--quarter", "2026-Q2", "--part", "done", "--text", "Pressed a bale."}},
        {"confirmation", {"--confirms", "ticket", "--record", "T1", "--seen", "with the scale house"}},
        {"map", {"--map", "form", "--rule", "dates", "--value", "mdy"}},
        {"merge", {"--grower", "G2", "--into", "G1", "--reason", "one person, by telephone"}}};
    return rows;
}

strings command(const char* verb, const one_record& row) {
    strings arguments{verb, row.kind};
    arguments.insert(arguments.end(), row.flags.begin(), row.flags.end());
    return arguments;
}

/// A clerk by whom one row of each kind was recorded by its flags.
class recorded_clerk : public clerk {
  public:
    recorded_clerk() {
        must({"new", ledger_path()});
        for (const auto& row : a_row_of_each())
            must(command("record", row));
    }
};

} // namespace

TEST_CASE("every kind of record is recorded by its flags, entry after entry") {
    clerk at;
    at.must({"new", at.ledger_path()});
    std::size_t entry = 0;
    std::set<std::string> kinds;
    for (const auto& row : a_row_of_each()) {
        CAPTURE(row.kind);
        const auto done = at.run(command("record", row));
        CHECK(done.code == cli::done);
        CHECK_THAT(done.out, StartsWith(fmt::format("recorded by entry {}\n", ++entry)));
        CHECK(std::count(done.out.begin(), done.out.end(), '\n') == 2); // and what it was understood as
        CHECK_THAT(done.err, !Contains("refused"));                     // doubts may stand there
        kinds.insert(row.kind);
    }
    for (const auto& kind : records::recorded_kinds()) {
        CAPTURE(kind.name);
        CHECK(kinds.count(std::string{kind.name}) == 1);
    }
    const auto figures = at.run({"quarter", "show", "2026-Q2", "--json"}).json()["figures"];
    for (const auto& each : figures)
        if (each["name"] == "diverted_weight") CHECK(each["value"] == "155.000");
}

TEST_CASE("recording a row again changes nothing and says so") {
    recorded_clerk at;
    const auto head = at.head();
    for (const auto& row : a_row_of_each()) {
        CAPTURE(row.kind);
        CHECK_THAT(at.must(command("record", row)), Contains("nothing was changed"));
    }
    CHECK(at.head() == head);
}

TEST_CASE("a row that a rule refuses is refused by its flag, and nothing is written") {
    recorded_clerk at;
    const auto head = at.head();
    const auto refused = at.run({"record", "cost", "--cost", "C2", "--date", "2026-02-30", "--category", "travel",
                                 "--description", "van", "--amount", "1,250.00", "--fund", "grant"});
    CHECK(refused.code == cli::bad_input);
    CHECK(refused.out.empty());
    CHECK_THAT(refused.err,
               Contains("--date: ") && Contains("--amount: ") && Contains("refused: 2 faults; nothing was changed"));
    CHECK_THAT(at.run({"record", "receipt", "--receipt", "RC2", "--date", "2026-05-11", "--site", "S1", "--bundle",
                       "B9", "--outcome", "held"})
                   .err,
               Contains("--bundle: ") && Contains("B9") && Contains("1 fault;"));
    CHECK(at.head() == head);
}

TEST_CASE("a record is corrected and voided with a reason that stays in the journal") {
    recorded_clerk at;
    CHECK_THAT(at.must({"correct", "ticket", "T1", "--gross", "201", "--net", "161", "--why", "a 1 was read as a 0"}),
               Contains("corrected by entry"));
    CHECK(at.run({"list", "tickets", "--json"}).json()[0]["net"] == "161");
    CHECK_THAT(at.must({"void", "inkind", "I1", "--why", "entered twice"}), Contains("voided by entry"));
    CHECK(at.run({"list", "inkind", "--json"}).json().empty());
    std::vector<std::string> reasons;
    const auto file = ledger::ledger_file::open(at.ledger_path());
    file.for_each_journal_entry(at.head() - 1, at.head(), [&](const ledger::journal_entry& entry) {
        reasons.push_back(entry.deed + ": " + entry.reason);
    });
    CHECK(reasons == strings{"correct: a 1 was read as a 0", "void: entered twice"});
}

TEST_CASE("a reason is asked for, and an empty one is none") {
    recorded_clerk at;
    const auto head = at.head();
    CHECK(at.run({"correct", "cost", "C1", "--amount", "5"}).code == cli::usage);
    CHECK(at.run({"correct", "cost", "C1", "--amount", "5", "--why", ""}).code == cli::bad_input);
    CHECK(at.run({"void", "cost", "C1", "--why", ""}).code == cli::bad_input);
    CHECK(at.head() == head);
}

TEST_CASE("a record with a key of two is named by one part or both") {
    recorded_clerk at;
    CHECK(at.run({"correct", "bale", "L1", "B1", "--date", "2026-05-19", "--why", "misread"}).code == cli::done);
    CHECK(at.run({"correct", "bale", "L1", "--date", "2026-05-18", "--why", "misread"}).code == cli::done);
    CHECK(at.run({"list", "bales", "--json"}).json()[0]["date"] == "2026-05-18");
    CHECK(at.run({"correct", "bale", "L1", "B1", "B2", "--date", "2026-05-18", "--why", "misread"}).code == cli::usage);
}

TEST_CASE("the same --once repeated changes nothing, for recording, correcting and voiding") {
    recorded_clerk at;
    const auto repeated = [&](const strings& arguments) {
        CHECK(at.run(arguments).code == cli::done);
        const auto head = at.head();
        const auto again = at.run(arguments);
        CHECK(again.code == cli::done);
        CHECK_THAT(again.out, Contains("done before as entries") && Contains("nothing was changed"));
        CHECK(at.head() == head);
    };
    repeated({"record", "cost", "--cost", "C2", "--date", "2026-05-03", "--category", "personnel", "--description",
              "sorting", "--amount", "1", "--fund", "grant", "--once", "a"});
    repeated({"correct", "cost", "C2", "--amount", "2", "--why", "misread", "--once", "b"});
    repeated({"void", "cost", "C2", "--why", "entered twice", "--once", "c"});
    // The key speaks, not what it is given with.
    const auto head = at.head();
    CHECK_THAT(at.must({"void", "cost", "C1", "--why", "entered twice", "--once", "c"}), Contains("done before"));
    CHECK(at.head() == head);
}

TEST_CASE("who makes an entry is told by --who, TAREWELL_WHO or the login name, in this order") {
    recorded_clerk at;
    const auto who = [&] {
        std::string name;
        ledger::ledger_file::open(at.ledger_path())
            .for_each_journal_entry(at.head(), at.head(), [&](const auto& entry) { name = entry.who; });
        return name;
    };
    CHECK(who() == "not given");
    at.environment["USER"] = "login";
    at.must({"correct", "cost", "C1", "--amount", "1", "--why", "misread"});
    CHECK(who() == "login");
    at.environment["TAREWELL_WHO"] = "Ruth Ames";
    at.must({"correct", "cost", "C1", "--amount", "2", "--why", "misread"});
    CHECK(who() == "Ruth Ames");
    at.must({"--who", "Ib Orn", "correct", "cost", "C1", "--amount", "3", "--why", "misread"});
    CHECK(who() == "Ib Orn");
}

TEST_CASE("what a processor accepted is what it received less what it rejected, to the last digit") {
    quiet_clerk at;
    const auto correct = [&](const char* weight, const char* rejected) {
        return at.run({"correct", "acceptance", "SH1", "--weight", weight, "--received", "265", "--rejected", rejected,
                       "--why", "the settlement came"});
    };
    const auto refused = correct("255", "10.000000001");
    CHECK(refused.code == cli::bad_input);
    CHECK_THAT(refused.err, Contains("255 is not received 265 less rejected 10.000000001, which is 254.999999999; "));
    CHECK(correct("255.000", "10").code == cli::done);
}

TEST_CASE("a void says what the paper raises since, and what it raises no more") {
    quiet_clerk at;
    const auto gone = at.run({"void", "ticket", "T1", "--why", "of another yard"});
    CHECK(gone.code == cli::done);
    CHECK_THAT(gone.err, Contains("question: Bale L1 has no weight.\n"));
    at.must({"record", "ticket", "--ticket", "T3", "--date", "2026-05-22", "--scale", "P1", "--weighs", "bale",
             "--subject", "L2", "--net", "190", "--unit", "lb", "--entry", "printed"});
    CHECK_THAT(at.run({"void", "ticket", "T3", "--why", "typed twice"}).err,
               Contains("no longer raised: Check ticket T3 on bale L2 says 190 lb"));
    CHECK_THAT(at.run({"void", "inkind", "I1", "--why", "not ours"}).err, !Contains("raised"));
}

TEST_CASE("a corrected gross proposes the net that follows, and changes it only if the person says so") {
    quiet_clerk at;
    const std::vector<std::string> misread{"correct", "ticket", "T1", "--gross", "191", "--why", "misread"};
    const auto net_of_t1 = [&] {
        for (const auto& each : at.run({"list", "tickets", "--json"}).json())
            if (each["ticket"] == "T1") return each["net"].get<std::string>();
        return std::string{};
    };
    const auto by_a_pipe = at.run(misread);
    CHECK(by_a_pipe.code == cli::bad_input); // 191 less 40 is not 150
    CHECK_THAT(
        by_a_pipe.err,
        Contains("Gross less tare is 151 now, and the net of T1 is 150. Where the paper says so, correct it too: "
                 "--net 151"));
    const auto no = typed_at(at, misread, {}, std::vector<bool>{false});
    CHECK(no.code == cli::bad_input);
    CHECK_THAT(no.err, Contains("Correct the net to 151 too?"));
    CHECK(net_of_t1() == "150");
    CHECK(typed_at(at, misread, {}, std::vector<bool>{true}).code == cli::done);
    CHECK(net_of_t1() == "151");
    // Who tells the net, or that the ticket prints it so, is asked nothing.
    CHECK_THAT(at.run({"correct", "ticket", "T2", "--tare", "41", "--net", "109", "--why", "misread"}).err,
               !Contains("Gross less tare"));
    CHECK_THAT(at.run({"correct", "ticket", "T2", "--tare", "42", "--as_printed", "yes", "--why", "so printed"}).err,
               !Contains("Gross less tare"));
}
