#include "closing.hpp"
#include "intake/intake.hpp"
#include "ledger/whole_file.hpp"
#include "season_view.hpp"
#include "who.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <ostream>

namespace tarewell::cli {
namespace {

struct note_options {
    std::string quarter, part, text, file, why;
    bool json = false;
};

std::string text_of_file(const std::string& path) {
    if (!std::filesystem::is_regular_file(path))
        throw ledger::io_error(fmt::format("{} is no file that can be read", path));
    std::ifstream in{path, std::ios::binary};
    std::string text{std::istreambuf_iterator<char>{in}, {}};
    if (!in || in.bad()) throw ledger::io_error(fmt::format("{} cannot be read", path));
    while (text.ends_with('\n') || text.ends_with('\r'))
        text.pop_back();
    return text;
}

void show_notes(const note_options& how, context& with) {
    const auto quarter = quarter_named(how.quarter);
    auto seen = view(with);
    std::stable_sort(seen.season.notes.begin(), seen.season.notes.end(), [](const auto& a, const auto& b) {
        return a.order < b.order;
    }); // a note written anew keeps its place
    auto list = nlohmann::ordered_json::array();
    for (const auto& each : seen.season.notes) {
        if (each.quarter != quarter || (!how.part.empty() && each.part != how.part)) continue;
        list.push_back({{"part", each.part}, {"text", each.text}, {"entry", each.entry}});
        if (!how.json) with.out << fmt::format("[{}]\n{}\n\n", each.part, each.text);
    }
    if (how.json)
        with.out << list.dump(2) << '\n';
    else if (list.empty())
        with.out << fmt::format("no note for {} yet; write one with: tarewell quarter note {} done 'what was done'\n",
                                how.quarter, how.quarter);
}

void run_note(note_options how, context& with) {
    static_cast<void>(quarter_named(how.quarter));
    if (!how.file.empty() && !how.text.empty())
        throw ledger::input_error("TEXT and --file are both given; give one of them");
    if (!how.file.empty()) how.text = text_of_file(how.file);
    if (how.text.empty()) {
        if (!how.file.empty())
            throw ledger::input_error(fmt::format("{} is empty; a note has a paragraph at least", how.file));
        return show_notes(how, with);
    }
    auto file = with.open();
    bool known = false;
    file.for_each(ledger::kind::note, file.head().seq, [&](const ledger::stored_row& stored) {
        known = known || (stored.values["quarter"] == how.quarter && stored.values["part"] == how.part);
    });
    const auto change = known ? intake::correct(file, ledger::kind::note, {how.quarter, how.part}, {{"text", how.text}},
                                                how.why.empty() ? "written anew" : how.why, writing(with))
                              : intake::record(file, ledger::kind::note,
                                               {{"quarter", how.quarter}, {"part", how.part}, {"text", how.text}},
                                               writing(with), {}, how.why);
    with.out << (change.entries.empty() ? change.note : fmt::format("kept by entry {}", change.entries.front()))
             << '\n';
}

} // namespace

void add_note(const command& quarter, context& with) {
    auto sub = quarter.add("note", "keep or show the paragraphs of a quarter's report: done, problems, next");
    auto& how = quarter.keep<note_options>();
    sub.value("QUARTER", how.quarter, "such as 2026-Q3").required();
    sub.value("PART", how.part, "done, problems, next, or a word of your own");
    sub.value("TEXT", how.text, "the paragraphs; without them the notes are shown");
    sub.value("--file", how.file, "take the paragraphs from a text file");
    sub.value("--why", how.why, "why an earlier note is written anew");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_note(how, with); });
}

} // namespace tarewell::cli
