#include "records/errors.hpp"
#include "render/label_stock.hpp"

#include <catch2/catch.hpp>

#include <utility>

using namespace tarewell;
using Catch::Matchers::Contains;

namespace {

const auto& letter = render::paper_called("letter");
const auto& a4 = render::paper_called("a4");

render::label_stock stock(const char* text, const render::paper_size& on = letter) {
    return render::read_label_stock(text, on);
}

std::pair<render::micrometres, render::micrometres> corner(const render::label_stock& of, std::size_t place) {
    const auto at = of.corner_of(place);
    return {at.left, at.top};
}

} // namespace

TEST_CASE("a stock's size alone gives as many labels as fit, in the middle of the paper", "[paper]") {
    const auto of = stock("4x2in");
    CHECK(of.columns == 2);
    CHECK(of.rows == 5);
    // (8.5 - 2 x 4 - 3/16) / 2 = 0.15625 in, 3968.75 micrometres; (11 - 10) / 2 = 0.5 in (computed); 25,400 micrometres
    // an inch.
    CHECK(corner(of, 0) == std::pair<render::micrometres, render::micrometres>{3969, 12'700});
    // One label and a gap to the right: 4.34375 in; two labels down: 4.5 in (computed).
    CHECK(corner(of, 5) ==
          std::pair<render::micrometres, render::micrometres>{3969 + 101'600 + 4762, 12'700 + 2 * 50'800});
    CHECK(stock("2.625x1in").on_a_sheet() == 30);
    CHECK(stock("99.1x67.7mm", a4).on_a_sheet() == 8);
    CHECK(stock("63.5x38.1mm", a4).on_a_sheet() == 21);
    CHECK(stock("105x148.5mm", a4).on_a_sheet() == 4);
    CHECK(stock("4x3.333in").on_a_sheet() == 6);
    CHECK(stock("8.5x11in").on_a_sheet() == 1);
}

TEST_CASE("columns, rows, margins and gaps are taken as they are written, in inches or millimetres", "[paper]") {
    const auto of = stock("60x40mm 2x3 margins 10x20 gaps 5x2.5", a4);
    CHECK(of.on_a_sheet() == 6);
    CHECK(corner(of, 0) == std::pair<render::micrometres, render::micrometres>{10'000, 20'000});
    CHECK(corner(of, 3) == std::pair<render::micrometres, render::micrometres>{75'000, 62'500});
    CHECK(corner(stock("4x2in, 2x5, margins 4x12.5mm"), 0) ==
          std::pair<render::micrometres, render::micrometres>{4000, 12'500});
    CHECK(render::in_millimetres(101'600) == "101.600mm");
    CHECK(render::in_millimetres(62'005) == "62.005mm");
    CHECK(stock("").in_words == "4x2in, 2 columns, 5 rows");
    CHECK(stock("", a4).in_words == "99.1x67.7mm, 2 columns, 4 rows");
}

TEST_CASE("a stock that does not fit its paper is refused with what fits", "[paper]") {
    CHECK_THROWS_WITH(stock("4x2in 3x5"),
                      Contains("3 x 5 labels take 12.375 x 10 in, the paper is 8.5 x 11 in; 2 columns "
                               "and 5 rows fit"));
    CHECK_THROWS_WITH(stock("99.1x67.7mm 2x4 margins 13x13", a4), Contains("1 columns and 4 rows fit"));
    CHECK_THROWS_WITH(stock("9x2in"), Contains("not one such label fits"));
    CHECK_THROWS_WITH(stock("4x2in margins 9x1"), Contains("not one such label fits"));
    CHECK_THROWS_WITH(stock("1x0.5in"), Contains("a label is 1.89 x 0.945 in at least"));
}

TEST_CASE("what is no stock and no paper is said with an example", "[paper]") {
    for (const auto* text : {"4", "4x", "x2in", "4x2cm", "-4x2in", "4x2in 2", "4x2in 0x5", "4x2in margins",
                             "4x2in gaps 1", "4x2in 2x5 2x5", "4x2in five rows", "999999x2in", "4x2in 9999x9999"})
        CHECK_THROWS_WITH(stock(text),
                          Contains(text) && Contains("such as '4x2in 2x5 margins 0.156x0.5 gaps 0.188x0'"));
    CHECK_THROWS_WITH(render::paper_called("legal"), Contains("letter or a4"));
}
