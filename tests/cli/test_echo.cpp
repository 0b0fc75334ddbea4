#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// The quiet season with bale L2 not weighed yet.
class clerk_with_ticket_in_hand : public clerk {
  public:
    clerk_with_ticket_in_hand() {
        take(changed(quiet_season(), "tickets.csv", "T2,2026-05-22,P1,bale,L2,150,40,110,lb,printed,\n", ""));
    }
    static std::vector<std::string> ticket(const std::string& net, std::initializer_list<std::string> more = {}) {
        std::vector<std::string> arguments{"record",  "ticket", "--ticket", "T2",   "--date",    "2026-05-22",
                                           "--scale", "P1",     "--weighs", "bale", "--subject", "L2",
                                           "--net",   net,      "--unit",   "lb",   "--entry",   "printed"};
        arguments.insert(arguments.end(), more);
        return arguments;
    }
    /// Where a person sits who gives one answer to every question.
    answered at_a_terminal(const std::vector<std::string>& arguments, bool says, int* questions) {
        std::ostringstream out, err;
        cli::context with{out, err, true,
                          [this](const std::string& name) {
                              const auto found = environment.find(name);
                              return found == environment.end() ? std::string{} : found->second;
                          },
                          standing_still()};
        with.ask = [&](const std::string&) {
            ++*questions;
            return says;
        };
        const int code = cli::run(arguments, with);
        return {code, out.str(), err.str()};
    }
};

} // namespace

TEST_CASE("a ticket is told back as it was understood") {
    clerk_with_ticket_in_hand at;
    const auto done = at.run(at.ticket("110"));
    CHECK(done.code == cli::done);
    // computed: 110 / 100.8 = 1.091
    CHECK_THAT(done.out, Contains("T2: bale L2 from S2, 2 bundles of 2 growers, net 110 lb, 1.09 of the estimate\n"));
    CHECK(done.err.empty());
}

TEST_CASE("a tenfold net is told at once, on stderr where nobody is asked, and the ticket is recorded") {
    clerk_with_ticket_in_hand at;
    const auto done = at.run(at.ticket("1100"));
    CHECK(done.code == cli::done);
    CHECK_THAT(done.err, Contains("blocks closing: Bale L2 weighs 1100 lb, 10.91 times its claim of 100.8 lb"));
}

TEST_CASE(
    "at a terminal a doubt that blocks closing asks; no leaves the ledger as it was, yes records, --yes is not asked") {
    clerk_with_ticket_in_hand at;
    const auto before = at.head();
    int questions = 0;
    const auto no = at.at_a_terminal(at.ticket("1100"), false, &questions);
    CHECK(no.code == cli::findings);
    CHECK(questions == 1);
    CHECK(at.head() == before);
    CHECK_THAT(no.err, Contains("blocks closing: ") && Contains("nothing was changed"));
    CHECK(at.at_a_terminal(at.ticket("110"), false, &questions).code == cli::done); // nothing to ask
    CHECK(questions == 1);
    const std::vector<std::string> mistyped{"correct", "ticket", "T2", "--net", "1100", "--why", "misread"};
    CHECK(at.at_a_terminal(mistyped, true, &questions).code == cli::done);
    CHECK(questions == 2);
    CHECK(at.head() == before + 2);
    CHECK(at.at_a_terminal({"correct", "ticket", "T2", "--net", "1101", "--why", "misread", "--yes"}, false, &questions)
              .code == cli::done);
    CHECK(questions == 2);
}

TEST_CASE("a second ticket on a weighed bale is told, and which of the two decides") {
    quiet_clerk at;
    const auto done = at.run({"record", "ticket", "--ticket", "T3", "--date", "2026-05-23", "--scale", "P1", "--weighs",
                              "bale", "--subject", "L2", "--net", "111", "--unit", "lb", "--entry", "printed"});
    CHECK_THAT(
        done.err,
        Contains("question: Bale L2 has ticket T2 already; T2 decides its weight, the other is a check weight."));
}

TEST_CASE("a date to come is told") {
    quiet_clerk at; // its clock stands on 2027-05-14
    const auto done = at.run({"record", "cost", "--cost", "C2", "--date", "2027-05-15", "--category", "personnel",
                              "--description", "sorting", "--amount", "5", "--fund", "grant", "--document", "inv 2"});
    CHECK_THAT(done.out, Contains("C2: $5.00 of personnel on the grant, sorting, 2027-05-15\n"));
    CHECK_THAT(done.err, Contains("blocks closing: The cost C2 is dated 2027-05-15 and was recorded on 2027-05-14"));
}

TEST_CASE("intake tells each flag's row, and one line for a fault that repeats with its rows") {
    quiet_clerk at;
    std::string rows = "cost,date,category,description,amount,fund,document\n";
    for (int k = 2; k <= 6; ++k)
        rows += fmt::format("C{},2027-06-0{},personnel,sorting,5,grant,inv {}\n", k, k, k);
    rows += "C7,2026-06-01,supplies,twine,5,grant,inv 7\n";
    const auto file = at.folder().write("costs.csv", rows);
    for (const bool dry : {true, false}) {
        std::vector<std::string> arguments{"intake", "costs", file};
        if (dry) arguments.emplace_back("--dry-run");
        const auto done = at.run(arguments);
        CHECK(done.code == cli::done);
        CHECK_THAT(done.err, Contains("raised: 5 block closing, 6 questions, 0 notes"));
        CHECK_THAT(done.err, Contains("blocks closing: dated-after-entry, 5 times: a date is after the day on which it "
                                      "was recorded; lines of costs.csv 2-6\n"));
        CHECK_THAT(done.err, Contains("costs.csv:7: question: no-budget-line: Cost C7 is supplies"));
    }
    CHECK(at.run({"intake", "costs", file}).err.empty()); // nothing new
}

TEST_CASE("a ticket's number that may be another's by a slip is asked about") {
    quiet_clerk at;
    const auto said = [&](const std::string& id) {
        return at
            .run({"record", "ticket", "--ticket", id, "--date", "2026-05-23", "--scale", "P1", "--weighs", "bale",
                  "--subject", "L2", "--net", "111", "--unit", "lb", "--entry", "printed"})
            .err;
    };
    CHECK_THAT(said("T0098"), !Contains("number") && !Contains("scale P1"));
    CHECK_THAT(said("T01"), Contains("question: Tickets T1 and T01 are one number written in two ways"));
    CHECK_THAT(said("TO98"), Contains("Tickets T0098 and TO98 are one number"));
    CHECK_THAT(said("A98"), !Contains("one number")); // another pad
    CHECK_THAT(said("98"), Contains("are one number"));
    CHECK_THAT(said("T0099"), !Contains("scale P1"));
    // After 0099 comes 0100.
    CHECK_THAT(said("T1000"),
               Contains("Ticket T1000 is not the next of scale P1, whose last number is 0099: 0100 is, and "
                        "1000 has the same digits in another order."));
    CHECK_THAT(said("T1001"), !Contains("scale P1"));
    CHECK_THAT(said("T1003"), !Contains("scale P1")); // one was left out
    CHECK_THAT(said("T1104"), Contains("1004 is, and 1104 is one digit away from it"));
    at.must({"record", "scale", "--scale", "P2", "--class", "III", "--capacity", "5000", "--division", "1", "--unit",
             "lb"});
    at.must({"record", "ticket", "--ticket", "T1134", "--date", "2026-05-23", "--scale", "P2", "--weighs", "bale",
             "--subject", "L2", "--net", "111", "--unit", "lb", "--entry", "printed"});
    CHECK_THAT(said("T1135"), !Contains("scale P1")); // both scales take theirs from one run
    CHECK_THAT(said("T0500"), !Contains("scale P1")); // a gap from before
    CHECK_THAT(said("T7777"), !Contains("scale P1")); // a new pad
}
