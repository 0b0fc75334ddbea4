#include "closed_basin.hpp"
#include "figures/filed_closing.hpp"
#include "ledger/load_season.hpp"
#include "ledger/verify.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

const figures::closing_signatures three{"Maud Ellery", "Dell Rourke", "Odile Fenn"};

ledger::surroundings on_day(const std::string& day) {
    auto around = standing_still();
    around.now = [day] { return day + "T09:30:00Z"; };
    return around;
}

records::entry_no close_on(closed_basin& basin, const std::string& day, const std::string& early = {}) {
    return figures::close_period(basin.ledger(), closed_basin::spring, three, {{}, early}, on_day(day));
}

std::vector<std::string> remarks_on(closed_basin& basin, records::entry_no closing) {
    std::vector<std::string> told;
    for (const auto& each : figures::remarks_of(*figures::filed_at(basin.ledger(), closed_basin::spring, closing - 1)))
        told.push_back(each.what + ": " + each.text);
    return told;
}

} // namespace

TEST_CASE("a quarter whose last day is not over is closed only with a reason, which stands beside the signatures") {
    closed_basin basin;
    const auto before = basin.head();
    CHECK_THAT(basin.refusals_of([&] { close_on(basin, "2026-06-30"); }).at(0),
               Contains("2026-Q2 ends on 2026-06-30 and today is 2026-06-30") && Contains("--early 'why'"));
    CHECK(basin.head() == before);
    const auto entry = close_on(basin, "2026-06-30", "the agency asks for it in June");
    CHECK(remarks_on(basin, entry) ==
          std::vector<std::string>{"Closed before its last day was over: the agency asks for it in June"});
}

TEST_CASE("the day after its last a quarter is closed as it is, and an early reason is refused") {
    closed_basin basin;
    CHECK_THAT(basin.refusals_of([&] { close_on(basin, "2026-07-01", "why not"); }).at(0), Contains("leave it out"));
    CHECK(remarks_on(basin, close_on(basin, "2026-07-01")).empty());
}

TEST_CASE("a withdrawn closing opens its quarter; what was filed stays as it was, and the next closing names it") {
    closed_basin basin;
    const auto first = basin.close();
    const auto filed =
        figures::filed_text(figures::view_period(basin.ledger(), closed_basin::spring, first - 1).report);
    CHECK_THAT(
        basin.refusals_of([&] { figures::withdraw_period(basin.ledger(), closed_basin::spring, "", basin.around()); })
            .at(0),
        Contains("--why is empty"));
    const auto withdrawal =
        figures::withdraw_period(basin.ledger(), closed_basin::spring, "a ticket was tenfold", basin.around());
    CHECK(withdrawal == basin.head());
    CHECK(load_season(basin.ledger(), basin.head()).closing_of(closed_basin::spring) == nullptr);
    CHECK(load_season(basin.ledger(), first).closing_of(closed_basin::spring) != nullptr);
    basin.correct(records::kind::ticket, {"T1"}, {{"gross", "149"}, {"net", "109"}});

    const auto as_filed = figures::view_period(basin.ledger(), closed_basin::spring, first - 1).report;
    CHECK(as_filed.basis.closed);
    CHECK(figures::filed_text(as_filed) == filed);

    const auto second = basin.close();
    CHECK(remarks_on(basin, second) == std::vector<std::string>{fmt::format(
                                           "Takes the place of a closing withdrawn: entry {}, withdrawn by entry {}: "
                                           "a ticket was tenfold",
                                           first, withdrawal)});
    CHECK(basin.figure("bale_net_weight") == "109.000");
    CHECK(ledger::verify(basin.ledger()).empty());
}

TEST_CASE("a quarter that is not closed has nothing to withdraw") {
    closed_basin basin;
    CHECK_THAT(
        basin
            .refusals_of([&] { figures::withdraw_period(basin.ledger(), closed_basin::spring, "why", basin.around()); })
            .at(0),
        Contains("2026-Q2 is not closed"));
}

TEST_CASE("one name on all three lines, or a name that may be nobody's, is a question") {
    CHECK(figures::doubt_of_signers(three).empty());
    CHECK(figures::doubt_of_signers({"Maud Ellery", "Maud Ellery", "Odile Fenn"}).empty());
    CHECK_THAT(figures::doubt_of_signers({"Maud Ellery", "maud  ellery", "Maud Ellery."}),
               Contains("prepared, reviewed and certified the report alone"));
    CHECK_THAT(figures::doubt_of_signers({"Maud Ellery", "office", "Odile Fenn"}),
               Contains("'office' may not be a person's full name"));
    CHECK_THAT(figures::doubt_of_signers({"Maud Ellery", "- -", "Odile Fenn"}), Contains("'- -'"));
}

TEST_CASE("the certification prints who signed, the doubts accepted and why; the workbook and the folder say it too") {
    closed_basin basin;
    basin.correct(records::kind::ticket, {"T1"}, {{"net", "111"}, {"as_printed", "yes"}});
    const auto at = basin.at_the_desk();
    const auto closed =
        at.tell({"quarter", "close", "2026-Q2", "--prepared-by", "Maud Ellery", "--reviewed-by", "Maud Ellery",
                 "--certified-by", "Maud Ellery", "--accept", "net-as-printed=the yard confirms it"});
    REQUIRE(closed.code == cli::done);
    CHECK_THAT(closed.err, Contains("stands on the certification: Accepted: net-as-printed: the yard confirms it") &&
                               Contains("Maud Ellery prepared, reviewed and certified the report alone"));
    const auto page = basin.folder().file("certification.html");
    (void)at.done({"report", "certification", "2026-Q2", page});
    CHECK_THAT(bytes_in(page), Contains("<dd>Maud Ellery</dd>") && Contains("Accepted: net-as-printed") &&
                                   Contains("the yard confirms it") && Contains("Question about the signers"));
    const auto folder = basin.folder().file("evidence");
    (void)at.done({"ledger", "evidence", "2026-Q2", folder});
    CHECK_THAT(bytes_in(folder + "/README.txt"), Contains("Accepted: net-as-printed: the yard confirms it"));
}

TEST_CASE("a note or a correction after the closing says that the filed report does not have it") {
    closed_basin basin;
    const auto closing = basin.close();
    const auto at = basin.at_the_desk();
    const auto told = fmt::format("2026-Q2 was closed by entry {}: the filed report doesn't have this", closing);
    CHECK_THAT(at.tell({"quarter", "note", "2026-Q2", "done", "Swept the yard."}).err, Contains(told));
    CHECK_THAT(at.tell({"correct", "cost", "C1", "--amount", "101", "--why", "misread"}).err, Contains(told));
    CHECK_THAT(at.tell({"void", "cost", "C1", "--why", "entered twice"}).err, Contains(told));
    CHECK(at.tell({"quarter", "note", "2026-Q3", "done", "Baled."}).err.empty());
}
