#include "render/form_check.hpp"
#include "render/form_names.hpp"
#include "render/forms.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>

using namespace tarewell;
using render::form_text;

namespace {

std::vector<std::string> faults_of(const std::string& text) {
    return render::form_shelf{}.check(form_text{"mine.mustache", text}).faults;
}
using lines = std::vector<std::string>;

} // namespace

TEST_CASE("A form with known names and closed tags has no fault") {
    CHECK(faults_of("<p>{{award.program}} {{figure.diverted_tons.value}}</p>\n").empty());
    CHECK(faults_of("{{#by_site}}{{name}} {{award.id}}{{/by_site}}{{^any_by_site}}none{{/any_by_site}}").empty());
    CHECK(faults_of("{{! a note with {{ in it }}{{#chart.tons}}{{> part_chart}}{{/chart.tons}}").empty());
    CHECK(faults_of("{{#figure.goal_share}}{{#reason}}{{reason}}{{/reason}}{{/figure.goal_share}}").empty());
}

TEST_CASE("An unknown name is refused with its line and the nearest known name") {
    CHECK(faults_of("<p>\n{{figure.divertd_tons.value}}\n</p>") ==
          lines{"mine.mustache:2:figure.divertd_tons.value: there is no such name here; the nearest is "
                "figure.diverted_tons.value"});
    CHECK(faults_of("{{#by_site}}\n{{nmae}}{{/by_site}}") ==
          lines{"mine.mustache:2:nmae: there is no such name here; the nearest is name"});
    CHECK(faults_of("{{#by_sites}}{{/by_sites}}").size() == 1);
    CHECK(faults_of("{{by_site.name}}").size() == 1); // only in the list's section
}

TEST_CASE("Tags and sections that do not close are refused with the line on which they begin") {
    CHECK(faults_of("a\n\n{{award.id") == lines{"mine.mustache:3:{{award.id: the tag is not closed; end it with }}"});
    CHECK(faults_of("{{#figures}}\n{{name}}\n") ==
          lines{"mine.mustache:1:figures: the section is not closed; end it with {{/figures}}"});
    CHECK(faults_of("{{#figures}}{{#reason}}\n{{/figures}}{{/reason}}").size() == 2);
    CHECK(faults_of("{{/figures}}") == lines{"mine.mustache:1:figures: no section is open here; "
                                             "begin it with {{#figures}} or take this tag out"});
}

TEST_CASE("Text does not go unescaped into a page, nor a picture into text") {
    CHECK(faults_of("{{{award.program}}}") ==
          lines{"mine.mustache:1:award.program: text would go into the page unescaped; write "
                "{{award.program}}"});
    CHECK(faults_of("{{&award.program}}").size() == 1);
    CHECK(faults_of("{{#chart.tons}}{{svg}}{{/chart.tons}}") ==
          lines{"mine.mustache:1:svg: a picture would be written out as text; write {{{svg}}}"});
    CHECK(faults_of("{{award}}").size() == 1);
    CHECK(faults_of("{{=<% %>=}}").size() == 1);
}

TEST_CASE("Parts are read in their place: their names are held against where they stand") {
    const tests::temporary_folder folder;
    folder.write("part_row.mustache", "\n{{name}}");
    const render::form_shelf shelf{folder.path()};
    CHECK(shelf.check({"mine", "{{#by_site}}{{> part_row}}{{/by_site}}"}).faults.empty());
    const auto faults = shelf.check({"mine", "{{> part_row}}"}).faults;
    REQUIRE(faults.size() == 1);
    CHECK(faults.front().find("part_row.mustache:2:name: there is no such name here") != std::string::npos);
    CHECK(shelf.check({"mine", "{{> part_missing}}"}).faults.size() == 1);
    folder.write("part_self.mustache", "{{> part_self}}");
    CHECK(shelf.check({"mine", "{{> part_self}}"}).faults.size() == 1);
    // Each part brings in ten of the next: it is told once, and does not take the afternoon.
    for (int i = 1; i <= 7; ++i) {
        std::string ten;
        for (int k = 0; k < 10; ++k)
            ten += fmt::format("{{{{> part_{}}}}}", i + 1);
        folder.write(fmt::format("part_{}.mustache", i), ten);
    }
    folder.write("part_8.mustache", "plain");
    const auto too_many = shelf.check({"mine", "{{> part_1}}"}).faults;
    REQUIRE(too_many.size() == 1);
    CHECK(too_many.front().find("parts bring each other in more than 1000 times; take this tag out") !=
          std::string::npos);
}

TEST_CASE("Every shipped form is without fault and begins with its sentence") {
    const render::form_shelf shelf;
    const auto forms = shelf.all();
    CHECK(forms.size() >= 6);
    for (const auto& each : forms) {
        INFO(each.name);
        CHECK(shelf.check(shelf.choose(each.name, each.workbook).form).faults.empty());
        CHECK(each.sentence.size() > 20);
        CHECK(each.built_in);
    }
}

TEST_CASE("A form of the user's goes before the one built in, and names are plain words") {
    const tests::temporary_folder folder;
    folder.write("certification.mustache", "{{! Ours. }}x");
    const render::form_shelf shelf{folder.path()};
    CHECK(shelf.need("certification").text == "{{! Ours. }}x");
    CHECK_FALSE(shelf.need("quarter_page").text.empty());
    CHECK_THROWS_AS(static_cast<void>(shelf.need("../secret")), records::input_error);
    CHECK(tests::message_of<records::input_error>([&] {
              static_cast<void>(shelf.need("certificaton"));
          }).find("'certification'") != std::string::npos);
    CHECK_THROWS_AS(static_cast<void>(render::form_shelf{folder.file("none")}), records::io_error);
}

TEST_CASE("The README of the templates names everything that a form may use") {
    const auto readme = tests::bytes_in(tests::source_path("report_templates/README.md"));
    for (const auto& line : render::form_name_lines()) {
        INFO(line.path);
        CHECK(readme.find("| " + line.path + " | " + std::string{render::name_of(line.kind)} + " | " + line.meaning +
                          " |") != std::string::npos);
    }
}
