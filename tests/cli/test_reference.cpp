#include "clerk.hpp"
#include "paths.hpp"

#include <catch2/catch.hpp>

#include <fstream>
#include <iterator>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

TEST_CASE("the reference in the tree is what the program writes", "[reference]") {
    clerk at;
    std::ifstream file{source_path("cli/REFERENCE.md")};
    const std::string kept{std::istreambuf_iterator<char>{file}, {}};
    INFO("write it anew: tarewell reference > cli/REFERENCE.md");
    CHECK((kept == at.must({"reference"})));
}

TEST_CASE("the reference tells every command, kind, column, figure, flag and setting", "[reference]") {
    clerk at;
    const auto told = at.must({"reference"});
    for (const auto& each : cli::commands())
        CHECK_THAT(told, Contains(fmt::format("### `tarewell {}`", each.name)));
    for (const auto& kind : records::all_kinds()) {
        const auto from = told.find(fmt::format("### `{}.csv`", kind.file));
        REQUIRE(from != std::string::npos);
        const auto part = told.substr(from, told.find("\n## ", from) - from);
        for (const auto& column : kind.columns)
            CHECK_THAT(part, Contains(fmt::format("| {} |", column.name)));
    }
    const auto figures = at.must({"flags", "--codes"});
    for (const auto& line : {std::string{"diverted_weight"}, figures.substr(0, figures.find(' ')),
                             std::string{"bundle_aim_lb"}, std::string{"75"}})
        CHECK_THAT(told, Contains(fmt::format("| {} |", line)));
}
