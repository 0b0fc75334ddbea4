#include "clerk.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using Catch::Matchers::StartsWith;
using strings = std::vector<std::string>;

namespace {

strings asked(const strings& more) {
    strings arguments{"estimate", "--length", "96", "--width", "30"};
    arguments.insert(arguments.end(), more.begin(), more.end());
    return arguments;
}

/// A clerk without a ledger.
class bare_clerk : public clerk {
  public:
    bare_clerk() { environment.clear(); }
    nlohmann::ordered_json json(strings more) {
        more.emplace_back("--json");
        return nlohmann::ordered_json::parse(must(asked(more)));
    }
};

} // namespace

TEST_CASE("an estimate needs no ledger and shows area, weight, bundles and labels") {
    bare_clerk at;
    const auto text = at.must(asked({"--name", "Ruth Ames"}));
    // computed: 96 x 30 x 1.5 = 4,320 ft2, 172.8 lb at 0.04 lb/ft2 (both common practice, no source): three bundles of
    // at most 60 lb.
    CHECK_THAT(text, StartsWith("film area     4320.0 ft2 (floor area x 1.5000, 1 layer)\nestimate      172.800 lb "
                                "(0.04 lb/ft2, the program's constant)\nbundles       3\n"));
    CHECK_THAT(text, Contains("57.600 lb  Ruth Ames, 1 of 3\n") && Contains("57.600 lb  Ruth Ames, 3 of 3\n"));
    CHECK_THAT(text, Contains("Lift bundles with help"));
}

TEST_CASE("an estimate says that the constant claims 39 % more than clean 6 mil film can weigh") {
    // computed: 0.04/0.028717 = 1.393 (yield of PE film at 0.92 g/cm3: read in ccc-films.com/resources).
    bare_clerk at;
    CHECK_THAT(at.must(asked({})),
               Contains("The program's constant, 0.04 lb/ft2, claims 39 % more than clean 6 mil film can weigh"));
    CHECK(at.json({})["constant_over_clean"].get<double>() == Approx(1.393).margin(0.0005));
    CHECK_THAT(at.must(asked({"--area-weight", "0.031"})), !Contains("more than clean")); // computed: 8 %
}

TEST_CASE("an estimate by thickness says what the constant would have claimed") {
    bare_clerk at;
    const auto made = at.json({"--mil", "6"});
    CHECK(made["basis"] == "thickness");
    CHECK(std::stod(made["weight"].get<std::string>()) ==
          Approx(4.320 * 28.717).margin(0.01)); // computed: 28.717 lb per 1,000 ft2 at 6 mil and 0.92
    CHECK(made["weight_by_constant"] == "172.800");
    CHECK_THAT(at.must(asked({"--mil", "6"})), Contains("the program's constant would claim 172.800 lb"));
    CHECK(std::stod(at.json({"--mil", "4"})["weight"].get<std::string>()) ==
          Approx(4.320 * 19.145).margin(0.01)); // computed: 19.145 at 4 mil
}

TEST_CASE("an estimate as JSON has decimal strings for weights and bundles that sum to the whole") {
    bare_clerk at;
    const auto made = at.json({"--layers", "2", "--name", "Ib Orn"});
    CHECK(made["film_area_ft2"] == 8640.0);
    CHECK(made["weight"] == "345.600");
    CHECK(made["unit"] == "lb");
    CHECK(made["bundles"].size() == 7);
    CHECK(made["bundles"][6]["label"] == "Ib Orn, 7 of 7");
    double sum = 0;
    for (const auto& each : made["bundles"])
        sum += std::stod(each["weight"].get<std::string>());
    CHECK(sum == Approx(345.6).epsilon(1e-12));
}

TEST_CASE("an arc's factor is worked out from rise and width, a half circle is pi/2") {
    bare_clerk at;
    CHECK(at.json({"--rise", "7.5"})["factor"].get<double>() ==
          Approx(1.1591).margin(0.00005)); // computed: rise/width 0.25
    CHECK(at.json({"--rise", "12"})["factor"].get<double>() == Approx(1.3832).margin(0.00005));  // computed: 0.40
    CHECK(at.json({"--half-circle"})["factor"].get<double>() == Approx(1.5708).margin(0.00005)); // computed: pi/2
}

TEST_CASE("metres and kilograms give the same cover") {
    // 1 ft = 0.3048 m, 1 lb = 0.45359237 kg exactly (read in a secondary source; NIST SP 811 from memory).
    bare_clerk at;
    const auto made = nlohmann::ordered_json::parse(
        at.must({"estimate", "--length", "29.2608", "--width", "9.144", "--metres", "--unit", "kg", "--json"}));
    CHECK(made["film_area_ft2"].get<double>() == Approx(4320.0).epsilon(1e-12));
    CHECK(made["weight"] == "78.381"); // computed: 172.8 x 0.45359237 = 78.38076...
    CHECK(made["bundles"].size() == 3);
}

TEST_CASE("what is wrong with an estimate names its flag") {
    bare_clerk at;
    const auto says = [&](const strings& arguments, const char* what) {
        const auto done = at.run(arguments);
        CAPTURE(done.err, what);
        CHECK(done.code == cli::bad_input);
        CHECK(done.out.empty());
        CHECK_THAT(done.err, Contains(what));
    };
    says({"estimate", "--length", "96ft", "--width", "30"},
         "--length: '96ft' is not a number above 0; write it as 30 or 7.5");
    says({"estimate", "--length", "96", "--width", "0"}, "--width: '0' is not a number above 0");
    says(asked({"--rise", "-3"}), "--rise: '-3'");
    says(asked({"--mil", "six"}), "--mil: 'six'");
    says(asked({"--factor", "1,5"}), "--factor: '1,5'");
    says(asked({"--area-weight", "4e-2"}), "--area-weight: '4e-2'");
    says(asked({"--density", "nan"}), "--density: 'nan'");
    says(asked({"--aim", "0"}), "--aim: '0'");
    says(asked({"--maximum", "x"}), "--maximum: 'x'");
    says(asked({"--aim", "70"}), "--aim: a bundle's aim is above its maximum");
    says({"estimate", "--length", "999999999", "--width", "999999999"}, "");
    CHECK(at.run(asked({"--layers", "0"})).code == cli::usage);
    CHECK(at.run(asked({"--unit", "stone"})).code == cli::usage);
    CHECK(at.run({"estimate", "--length", "96"}).code == cli::usage);
}

TEST_CASE("an estimate takes the latest settings of a ledger that is named, where no flag says otherwise") {
    quiet_clerk at;
    const auto weight = [&](const strings& more) {
        auto arguments = asked(more);
        arguments.emplace_back("--json");
        return at.run(arguments).json()["weight"].get<std::string>();
    };
    CHECK(weight({}) == "172.800");
    at.must({"settings", "set", "area_weight_lb_per_ft2", "0.03"});
    at.must({"settings", "set", "curvature_factor", "1.25", "--from", "2026-06-01"});
    CHECK(weight({}) == "108.000"); // computed: 2,880 x 1.25 x 0.03
    CHECK(weight({"--area-weight", "0.04", "--factor", "1.5"}) == "172.800");
    at.must({"settings", "set", "bundle_maximum_lb", "30"});
    at.must({"settings", "set", "bundle_aim_lb", "25"});
    CHECK_THAT(at.must(asked({})), Contains("bundles       4\n")); // computed: 108/25 = 4.32, 27 lb each
    at.environment["TAREWELL_LEDGER"] = at.folder().file("none.tarewell");
    CHECK(at.run(asked({})).code == cli::bad_input);
}

TEST_CASE("bundles keep to an aim and a maximum of one's own") {
    bare_clerk at;
    CHECK(at.json({"--aim", "30", "--maximum", "35"})["bundles"].size() == 6); // computed: 172.8/30 = 5.76
    CHECK(at.json({"--maximum", "50"})["bundles"].size() == 4);                // computed: 3 would be 57.6 lb each
}
