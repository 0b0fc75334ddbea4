#include "base_season.hpp"
#include "desk/find.hpp"
#include "ledger/load_season.hpp"
#include "records/letters.hpp"
#include "records/nearest_name.hpp"

#include <catch2/catch.hpp>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using records::kind;

namespace {

/// Growers and sites of the invented Kestrel Basin, with what tells them apart.
class named_season : public base_season {
  public:
    named_season() {
        folder().write("sites.csv", "site,name,town,host\nS1,Old Creamery,Wend,\nS03,Millbrook yard,Fen,Fen Grange\n"
                                    "S04,Millbrook extension,Aldwend,\nS2,Nursery lot,Aldwend,\n");
        folder().write("growers.csv", "grower,name,farm,town,region,email,phone\n"
                                      "G1,Ruth Ames,Hollow Farm,Wend,KB,ruth@example.org,(555) 010-0100\n"
                                      "G2,Ib Orn,,Aldwend,KB,,\nG3,Renée Vautrel,Ferme du Pré Haut,Fen,KB,,555-0103\n"
                                      "G4,Ruth Amesbury,,Fen,KB,,555-0177\nG5,Søren Łuk,,Fen,KB,,\n");
        take_all();
        season_ = ledger::load_season(ledger(), head());
    }
    [[nodiscard]] std::vector<std::string> ids(kind which, std::string_view said) const {
        return ids_of(desk::find(season_, which, said).matches);
    }
    [[nodiscard]] std::vector<std::string> near(kind which, std::string_view said) const {
        return ids_of(desk::find(season_, which, said).near);
    }
    [[nodiscard]] const records::season& season() const { return season_; }

  private:
    static std::vector<std::string> ids_of(const std::vector<desk::found_thing>& of) {
        std::vector<std::string> made;
        for (const auto& each : of)
            made.push_back(each.id);
        return made;
    }
    records::season season_;
};

using ids = std::vector<std::string>;

} // namespace

TEST_CASE("a record is found by its id, its name, or a part of it, whatever its case and accents", "[find]") {
    const named_season of;
    CHECK(of.ids(kind::site, "S03") == ids{"S03"});
    CHECK(of.ids(kind::site, "s03") == ids{"S03"});
    CHECK(of.ids(kind::site, "Millbrook yard") == ids{"S03"});
    CHECK(of.ids(kind::site, "MILLBROOK YARD") == ids{"S03"});
    CHECK(of.ids(kind::site, "yard") == ids{"S03"});
    CHECK(of.ids(kind::site, "mill ext") == ids{"S04"});
    CHECK(of.ids(kind::site, "creamery") == ids{"S1"});
    CHECK(of.ids(kind::site, "amery") == ids{"S1"}); // within a word, where no word begins so
    CHECK(of.ids(kind::site, "fen grange") == ids{"S03"});
    CHECK(of.ids(kind::grower, "renee vautrel") == ids{"G3"});
    CHECK(of.ids(kind::grower, "RENÉE") == ids{"G3"});
    CHECK(of.ids(kind::grower, "pre haut") == ids{"G3"});
    CHECK(of.ids(kind::grower, "soren luk") == ids{"G5"});
    CHECK(of.ids(kind::grower, "hollow") == ids{"G1"});
}

TEST_CASE("a whole name goes before a part of another's, and several are all told", "[find]") {
    const named_season of;
    CHECK(of.ids(kind::grower, "Ruth Ames") == ids{"G1"}); // not Ruth Amesbury
    CHECK(of.ids(kind::grower, "ruth") == ids{"G1", "G4"});
    CHECK(of.ids(kind::site, "millbrook") == ids{"S03", "S04"});
    CHECK(of.ids(kind::site, "aldwend") == ids{"S04", "S2"});
    const auto text =
        desk::several_found(kind::site, "millbrook", desk::find(of.season(), kind::site, "millbrook").matches);
    CHECK_THAT(text, Contains("'millbrook' may be any of 2 sites; say which, by its id:"));
    CHECK_THAT(text, Contains("\n  S03  Millbrook yard") && Contains("\n  S04  Millbrook extension"));
}

TEST_CASE("a grower is found by e-mail address and by the digits of a telephone number", "[find]") {
    const named_season of;
    CHECK(of.ids(kind::grower, "Ruth@Example.org") == ids{"G1"});
    CHECK(of.ids(kind::grower, "555 010 0100") == ids{"G1"});
    CHECK(of.ids(kind::grower, "5550100100") == ids{"G1"});
    CHECK(of.ids(kind::grower, "0177") == ids{"G4"});
    CHECK(of.ids(kind::grower, "555-0103") == ids{"G3"});
    CHECK(of.ids(kind::grower, "010").empty()); // three digits are too few
}

TEST_CASE("an id of no record is never taken for a part of a name", "[find]") {
    const named_season of;
    CHECK(of.ids(kind::site, "S9").empty());
    CHECK(of.ids(kind::bundle, "R1152").empty());
    CHECK(of.ids(kind::site, "S3") == ids{"S03"}); // the number is the same
    CHECK(of.ids(kind::bale, "1") == ids{"L1"});
    CHECK(of.ids(kind::grower, "unknown").empty()); // who is nobody
}

TEST_CASE("registrations are found by their grower, bundles by what their label says", "[find]") {
    const named_season of;
    CHECK(of.ids(kind::cover, "ruth ames") == ids{"R1"});
    CHECK(of.ids(kind::cover, "0100") == ids{"R1"});
    CHECK(of.ids(kind::bundle, "Ruth Ames, 2 of 3") == ids{"B2"});
    CHECK(of.ids(kind::bundle, "R1 2") == ids{"B2"});
    CHECK(of.ids(kind::bundle, "R1, 2 of 3") == ids{"B2"});
    CHECK(of.ids(kind::bundle, "ames") == ids{"B1", "B2", "B3"});
    CHECK(of.ids(kind::bale, "nursery") == ids{"L1"});
    CHECK(of.ids(kind::shipment, "BOL1") == ids{"SH1"});
    CHECK(of.ids(kind::shipment, "fen polymer") == ids{"SH1"});
    CHECK(desk::find_processor(of.season(), "polymer").matches.front().id == "Fen Polymer");
}

TEST_CASE("where nothing is found the nearest is told, and no new record is asked for", "[find]") {
    const named_season of;
    CHECK(of.near(kind::site, "S05") == ids{"S03", "S04"});
    CHECK(of.near(kind::site, "Milbrok yard") == ids{"S03"});
    CHECK(of.near(kind::site, "nurserry") == ids{"S2"});
    CHECK(of.near(kind::grower, "Vautral") == ids{"G3"});
    CHECK(of.near(kind::site, "somewhere else").empty());
    CHECK(desk::none_found(kind::site, "nurserry", desk::find(of.season(), kind::site, "nurserry").near) ==
          "no site 'nurserry' is defined; did you mean S2 (Nursery lot)? `tarewell list sites` shows all");
    CHECK(desk::none_found(kind::cover, "X", {}) == "no registration 'X' is defined; `tarewell list covers` shows all");
}

TEST_CASE("letters changed count a swap as one, and stop at the most", "[find]") {
    using records::letters_changed;
    CHECK(letters_changed("ticket", "ticket", 3) == 0);
    CHECK(letters_changed("tikcet", "ticket", 3) == 1);
    CHECK(letters_changed("kitten", "sitting", 9) == 3); // C: k to s, e to i, g added
    CHECK(letters_changed("ca", "abc", 9) == 3);         // C: optimal string alignment edits no swapped pair again
    CHECK(letters_changed("", "abc", 9) == 3);
    CHECK(letters_changed("abcdef", "uvwxyz", 2) == 3);
    CHECK(records::near_names("tikcet", {"site", "ticket", "receipt"}) == ids{"ticket"});
    CHECK(records::near_names("zebra", {"site", "ticket"}).empty());
    CHECK(records::did_you_mean("shwo", {"show", "close"}) == "; did you mean 'show'?");
}

TEST_CASE("accents fold to plain letters, composed or not", "[find]") {
    CHECK(records::folded("Éric Ångström-ŁUK, Straße") == "eric angstrom-luk, strasse");
    CHECK(records::folded("Re\xCC\x81ne") == "rene"); // a combining acute
    CHECK(records::folded("Ωmega 北") == "Ωmega 北");
}
