#include "flag_case.hpp"

using namespace tarewell::tests;

namespace {

season_files with_films(std::string_view film, std::string_view from) {
    auto files = quiet_but("covers.csv", "96,30,1,\n", fmt::format("96,30,1,{}\n", film));
    return added(std::move(files), "settings.csv", fmt::format("accepted_films,{},clear;white\n", from));
}

season_files own_claims(std::string_view of_b4, std::string_view of_b5) {
    return quiet_but("bundles.csv", "B4,R2,1,2,,\nB5,R2,2,2,,\n",
                     fmt::format("B4,R2,1,2,{},lb\nB5,R2,2,2,{},lb\n", of_b4, of_b5));
}

season_files without_sizes(std::string_view of_b7) {
    return added(quiet_and("covers.csv", "R3,2026-05-05,G1,S1,1,,,,\n"), "bundles.csv",
                 fmt::format("B6,R3,1,2,50,lb\nB7,R3,2,2,{},lb\n", of_b7));
}

const char* const one_bundle = "B6,R3,1,1,,\n";

} // namespace

std::vector<flag_case> tarewell::tests::flag_cases_of_bundles() {
    const auto with_one = with_registration(quiet_season(), one_bundle);
    const auto of_unknown = with_registration(quiet_season(), one_bundle, "unknown");
    const auto* held = "RC6,2026-05-15,S1,B6,held,,\n";
    return {
        {"a registered bundle without a receipt; held would be one", "never-received", with_one, "B6", "2026-05-05",
         "bundle B6", "Bundle B6 (1 of 1) was registered on 2026-05-05 and has no receipt after 21 days.",
         added(with_one, "receipts.csv", held)},
        // The latest paper is the acceptance of 2026-06-01, 27 days after the registration.
        {"a bundle that has 26 days to come; with 27 it is in time", "never-received",
         added(with_one, "settings.csv", "handing_in_days,,26\n"), "B6", "2026-05-05", "bundle B6",
         "Bundle B6 (1 of 1) was registered on 2026-05-05 and has no receipt after 26 days.",
         added(with_one, "settings.csv", "handing_in_days,,27\n")},
        {"a bundle that claims more than the maximum of 60 lb", "claim-over-maximum", own_claims("26.4", "60.001"),
         "B5", "2026-05-02", "bundle B5",
         "Bundle B5 (2 of 2) claims 60.001 lb; the maximum weight of a bundle is 60 lb.", own_claims("26.4", "60")},
        {"a bundle that claims more than twice the maximum", "claim-over-twice-maximum", own_claims("20", "120.001"),
         "B5", "2026-05-02", "bundle B5",
         "Bundle B5 (2 of 2) claims 120.001 lb; the maximum weight of a bundle is 60 lb.", own_claims("20", "120")},
        {"a registration without sizes whose bundles claim the usual weight", "claimed-by-count", without_sizes("50"),
         "R3", "2026-05-05", "bundle B6, bundle B7",
         "Registration R3 has no sizes: each of its bundles claims the usual 50 lb; ask the grower for the covers' "
         "length, "
         "width and layers.",
         without_sizes("49.5")},
        {"a registration that lists two bundles of three", "number-missing",
         with_registration(quiet_season(), "B6,R3,1,3,,\nB7,R3,3,3,,\n"), "R3", "2026-05-05", "bundle B6, bundle B7",
         "Registration R3 says 3 bundles and lists 2: number 2 is missing.",
         with_registration(quiet_season(), "B6,R3,1,3,,\nB7,R3,3,3,,\nB8,R3,2,3,,\n")},
        {"a registration that lists one bundle of four", "number-missing",
         with_registration(quiet_season(), "B6,R3,3,4,,\n"), "R3", "2026-05-05", "bundle B6",
         "Registration R3 says 4 bundles and lists 1: numbers 1, 2, 4 are missing.", with_one},
        {"a bundle found without a label; a grower of its own is a label", "no-label",
         added(of_unknown, "receipts.csv", held), "RC6", "2026-05-15", "receipt RC6",
         "Bundle B6 (1 of 1) was found without a label; when its grower is known, correct its registration R3.",
         added(with_one, "receipts.csv", held)},
        {"a bundle received the day before its registration", "received-before-registered",
         quiet_but("receipts.csv", "RC4,2026-05-13", "RC4,2026-05-01"), "RC4", "2026-05-01", "receipt RC4",
         "Bundle B4 (1 of 2) was received on 2026-05-01, and its registration R2 is of 2026-05-02.",
         quiet_but("receipts.csv", "RC4,2026-05-13", "RC4,2026-05-02")},
        {"a bundle that came to another site than it was registered for", "other-site",
         quiet_but("receipts.csv", "RC5,2026-05-14,S1", "RC5,2026-05-14,S2"), "RC5", "2026-05-14", "receipt RC5",
         "Bundle B5 (2 of 2) was registered for site S1 and came to S2.",
         changed(changed(quiet_but("receipts.csv", "RC5,2026-05-14,S1", "RC5,2026-05-14,S2"), "receipts.csv",
                         "RC4,2026-05-13,S1", "RC4,2026-05-13,S2"),
                 "covers.csv", "G2,S1", "G2,S2")},
        {"a bundle loaded and seen nowhere; a receipt of the day at that site is enough", "not-unloaded",
         quiet_and("hauls.csv", "H2,2026-05-17,S1,S3,B5\n"), "B5", "2026-05-17", "haul H2 B5",
         "Bundle B5 (2 of 2), received at S1 on 2026-05-14, was loaded at site S1 on haul H2 of 2026-05-17 and has no "
         "receipt or bale at S3 since.",
         added(quiet_and("hauls.csv", "H2,2026-05-17,S1,S3,B5\n"), "receipts.csv", "RC6,2026-05-17,S3,B5,held,,\n")},
        {"a bundle loaded after its receipt there", "not-unloaded",
         added(quiet_and("hauls.csv", "H2,2026-05-17,S1,S3,B5\n"), "receipts.csv", "RC6,2026-05-16,S3,B5,held,,\n"),
         "B5", "2026-05-17", "haul H2 B5",
         "Bundle B5 (2 of 2), received at S1 on 2026-05-14, was loaded at site S1 on haul H2 of 2026-05-17 and has no "
         "receipt or bale at S3 since.",
         added(quiet_and("hauls.csv", "H2,2026-05-17,S1,S3,B5\n"), "rejects.csv",
               "J1,2026-05-17,site,B5,,,,twine,landfilled\n")},
        {"film that is not on the list; a list for later registrations leaves it be", "film-off-list",
         with_films("black", "2026-05-01"), "R1 1", "2026-05-01", "cover R1 1",
         "Cover 1 of registration R1 is black film, which is not on the program's list.",
         with_films("black", "2026-05-02")},
        {"film whose name only begins like one on the list", "film-off-list", with_films("whit", ""), "R1 1",
         "2026-05-01", "cover R1 1", "Cover 1 of registration R1 is whit film, which is not on the program's list.",
         with_films("white", "")},
    };
}

TEST_CASE("a bundle's flags are raised on their rows and day, and not by a near miss") {
    check_flags(flag_cases_of_bundles());
}

TEST_CASE("a registration that lacks more numbers than a sentence can hold says how many") {
    const auto flags =
        flags_with_code(reckoned_season{with_registration(quiet_season(), "B6,R3,1,40,,\n")}, "number-missing");
    REQUIRE(flags.size() == 1);
    CHECK(
        flags[0].sentence ==
        "Registration R3 says 40 bundles and lists 1: numbers 2, 3, 4, 5, 6, 7, 8, 9, 10, 11 and 29 more are missing.");
}
