#include "closing.hpp"
#include "desk/keeping.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct note_options {
    std::string quarter, part, text, file, why;
};

void run_note(note_options how, context& with) {
    static_cast<void>(desk::period_named(how.quarter));
    if (!how.file.empty() && !how.text.empty())
        throw records::input_error("TEXT and --file are both given; give one of them");
    if (!how.file.empty()) how.text = desk::text_of_file(how.file);
    if (how.text.empty()) {
        if (!how.file.empty())
            throw records::input_error(fmt::format("{} is empty; a note has a paragraph at least", how.file));
        return with.print(desk::notes_of(desk::season_view{with.open()}, how.quarter, how.part));
    }
    auto file = with.open();
    const auto change = desk::keep_note(file, how.quarter, how.part, how.text, how.why, with.writing());
    with.out << (change.entries.empty() ? change.note : fmt::format("kept by entry {}", change.entries.front()))
             << '\n';
    tell_filed(file, change.entries, with);
}

} // namespace

void add_note(const command& quarter, context& with) {
    auto sub = quarter.add("note", "keep or show the paragraphs of a report: done, problems, next");
    auto& how = quarter.keep<note_options>();
    sub.value("QUARTER", how.quarter, one_of_periods).required();
    sub.value("PART", how.part, "done, problems, next, or a word of your own");
    sub.value("TEXT", how.text, "the paragraphs; without them the notes are shown");
    sub.value("--file", how.file, "take the paragraphs from a text file");
    sub.value("--why", how.why, "why an earlier note is written anew");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_note(how, with); });
}

} // namespace tarewell::cli
