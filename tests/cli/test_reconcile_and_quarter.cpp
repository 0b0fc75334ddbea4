#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;

namespace {

/// A decimal string with three decimals, as a whole number of thousandths.
std::int64_t thousandths(const nlohmann::ordered_json& text) {
    auto digits = text.get<std::string>();
    digits.erase(digits.size() - 4, 1);
    return std::stoll(digits);
}

} // namespace

TEST_CASE("in the sample season each bale's shares sum to its net, in JSON too") {
    clerk at;
    at.must({"new", at.ledger_path()});
    at.must({"intake", "season", source_path("sample_data/season")});
    const auto whole = at.run({"reconcile", "--json"}).json();
    CHECK(whole["by"] == "bale");
    CHECK(whole["unit"] == "lb");
    std::int64_t all = 0;
    std::size_t weighed = 0;
    for (const auto& line : whole["lines"]) {
        CAPTURE(line["bale"].dump());
        if (line["weighed_on"].is_null()) {
            CHECK(line["reason"] == "nothing with an estimate was weighed");
            continue;
        }
        ++weighed;
        std::int64_t sum = 0;
        for (const auto& bundle : line["bundles"]) {
            sum += thousandths(bundle["share"]);
            if (!bundle["spot_weight"].is_null()) CHECK(thousandths(bundle["spot_weight"]) > 0);
        }
        CHECK(sum == thousandths(line["scale_weight"]));
        CHECK(thousandths(line["scale_weight"]) - thousandths(line["weighed"]["estimate"]) ==
              thousandths(line["difference"]));
        all += sum;
    }
    CHECK(weighed > 30);
    CHECK(thousandths(whole["total"]["scale_weight"]) == all);
    for (const auto* by : {"grower", "site", "registration"})
        CHECK(thousandths(at.run({"reconcile", "--by", by, "--json"}).json()["total"]["scale_weight"]) == all);
}

TEST_CASE("a reconciliation is a table that ends with its total") {
    quiet_clerk at;
    const auto text = at.must({"reconcile", "--by", "grower", "--quarter", "2026-Q2"});
    CHECK_THAT(text, StartsWith("Bundles registered, received, rejected, baled and weighed; estimate and scale of what "
                                "was weighed, in lb.\n"));
    CHECK_THAT(text, Contains("G1") && Contains("Ruth Ames") && Contains("\ntotal"));
    CHECK_THAT(text, Contains("260.000") && Contains("1.003")); // computed: 260/259.2
    CHECK_THAT(at.must({"reconcile", "--by", "grower", "--quarter", "2026-Q1"}), !Contains("G1"));
}

TEST_CASE("a quarter is shown with its days and every figure, and '-' with a reason where one is undefined") {
    quiet_clerk at;
    const auto text = at.must({"quarter", "show", "2026-Q3"});
    CHECK_THAT(text, StartsWith(fmt::format("2026-Q3  2026-07-01 to 2026-09-30, as of entry {}\n\n", at.head())));
    for (const auto& each : figures::all_figure_names())
        CHECK_THAT(text, Contains("\n" + std::string{each.name} + " "));
    CHECK_THAT(text, Contains(" - $/ton     no tons were diverted\n"));
}

TEST_CASE("a quarter as of an entry says so, in JSON and in the workbook") {
    quiet_clerk at;
    const auto before = at.head();
    at.must({"void", "cost", "C1", "--why", "entered twice"});
    const auto spent = [](const nlohmann::ordered_json& whole) {
        for (const auto& each : whole["figures"])
            if (each["name"] == "grant_spent") return each["value"].get<std::string>();
        return std::string{};
    };
    const auto as_of = fmt::format("{}", before);
    CHECK(spent(at.run({"quarter", "show", "2026-Q2", "--json"}).json()) == "0.00");
    const auto then = at.run({"quarter", "show", "2026-Q2", "--json", "--as-of", as_of}).json();
    CHECK(spent(then) == "100.50");
    CHECK(then["as_of"] == before);
    const auto path = at.folder().file("q.xlsx");
    CHECK(at.must({"quarter", "workbook", "2026-Q2", path, "--as-of", as_of}) ==
          fmt::format("wrote {}: 2026-Q2 as of entry {}\n", path, before));
    const auto first = bytes_in(path);
    at.must({"quarter", "workbook", "2026-Q2", path, "--as-of", as_of});
    CHECK(bytes_in(path) == first);
    at.must({"quarter", "workbook", "2026-Q2", path});
    CHECK(bytes_in(path) != first);
}
