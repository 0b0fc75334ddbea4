#include "intake/zip_rewrite.hpp"

#include "intake/row_reader.hpp"
#include "intake/zip_parts.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <fstream>

using namespace tarewell;
using Catch::Matchers::Contains;

namespace {

std::string bytes_of(const std::string& below) {
    std::ifstream file{tests::source_path(below), std::ios::binary};
    return {std::istreambuf_iterator<char>{file}, {}};
}

std::string text_of(const std::string& zip, const char* part) {
    const intake::zip_parts parts{zip};
    const auto stream = parts.open(part);
    std::string made(stream->whole() + 1, '\0');
    std::size_t done = 0;
    while (const auto some = stream->read(made.data() + done, made.size() - done))
        done += some;
    made.resize(done);
    return made;
}

} // namespace

TEST_CASE("a part of a zip file is written anew and all others stay byte for byte", "[fill]") {
    const auto form = bytes_of("sample_data/agency_form.xlsx");
    CHECK(intake::with_parts(form, {}) == form);
    const auto sheet = text_of(form, "xl/worksheets/sheet1.xml");
    const std::string anew = "<a>" + std::string(100'000, 'x') + "</a>";
    const auto made = intake::with_parts(form, {{"XL/worksheets/Sheet1.xml", anew}});
    CHECK(text_of(made, "xl/worksheets/sheet1.xml") == anew);
    CHECK(text_of(made, "xl/styles.xml") == text_of(form, "xl/styles.xml"));
    CHECK(made.size() < form.size() + 2'000); // it is packed
    const auto back = intake::with_parts(made, {{"xl/worksheets/sheet1.xml", sheet}});
    CHECK(text_of(back, "xl/worksheets/sheet1.xml") == sheet);
    CHECK_THROWS_WITH(intake::with_parts(form, {{"xl/none.xml", ""}}), Contains("its part xl/none.xml is missing"));
}

TEST_CASE("a zip file that is cut, flipped or not one is refused or its parts stay whole", "[fill]") {
    const auto form = bytes_of("sample_data/agency_form.xlsx");
    for (std::size_t size = 0; size < form.size(); size += 97)
        CHECK_THROWS_AS(intake::with_parts(form.substr(0, size), {{"xl/workbook.xml", "x"}}), intake::unreadable);
    for (std::size_t at = 0; at < form.size(); at += 7) {
        auto flipped = form;
        flipped[at] = static_cast<char>(flipped[at] ^ 0xFF);
        try {
            const auto made = intake::with_parts(flipped, {{"xl/workbook.xml", "x"}});
            CHECK(made.size() > 100);
        } catch (const intake::unreadable&) {
            SUCCEED();
        }
    }
}
