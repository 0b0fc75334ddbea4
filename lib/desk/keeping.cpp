#include "desk/keeping.hpp"

#include "figures/stories.hpp"
#include "ledger/neighbourhood.hpp"
#include "records/letters.hpp"
#include "records/nearest_name.hpp"
#include "records/settings.hpp"

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tarewell::desk {
namespace {

/// Records a row of a key of two, or corrects the one that is there.
intake::change_summary record_or_correct(ledger::ledger_file& file, records::kind which,
                                         const std::array<std::string, 2>& key, const intake::named_values& rest,
                                         const std::string& why, const char* usual_why,
                                         const ledger::surroundings& around) {
    const auto& kind = records::info(which);
    bool known = false;
    file.for_each(which, file.head().seq, [&](const ledger::stored_row& stored) {
        known = known || (stored.values[kind.key[0]] == key[0] && stored.values[kind.key[1]] == key[1]);
    });
    if (known) return intake::correct(file, which, {key[0], key[1]}, rest, why.empty() ? usual_why : why, around);
    auto values = rest;
    for (std::size_t i = 0; i < key.size(); ++i)
        values[std::string{kind.columns[kind.key[i]].name}] = key[i];
    return intake::record(file, which, values, around, {}, why);
}

/// "don" is a slip of "done", not a part of the office's own.
void refuse_slip_of(const std::string& part) {
    const auto usual = figures::usual_parts_of_a_report();
    for (const auto& each : usual) {
        const std::size_t most = each.size() < 6 ? 1 : 2;
        const auto changed = records::letters_changed(records::small_letters(part), each, most);
        if (part != each && changed <= most)
            throw records::input_error(
                fmt::format("no part of a report is called '{}'; did you mean '{}'? A word of your "
                            "own must differ more from it",
                            part, each));
    }
}

} // namespace

answer settings_of(const looked_at& at) {
    const auto terms = ledger::neighbourhood{at.file, at.head.seq}.season();
    table shown{{"setting", "from", "value", "meaning"}};
    for (const auto& each : records::all_settings()) {
        shown.add({each.name, "(default)", each.default_value, each.meaning});
        for (const auto& set : terms.settings)
            if (set.name == each.name)
                shown.add({each.name, set.from ? quantity::text_of(*set.from) : "always", set.value, each.meaning});
    }
    answer made;
    made.tell(shown);
    return made;
}

intake::change_summary keep_setting(ledger::ledger_file& file, const std::string& name, const std::string& from,
                                    const std::string& value, const std::string& why,
                                    const ledger::surroundings& around) {
    return record_or_correct(file, records::kind::setting, {name, from}, {{"value", value}}, why, "set anew", around);
}

answer notes_of(const season_view& seen, const std::string& text, const std::string& part) {
    const auto period = period_named(text);
    auto notes = seen.season.notes;
    std::stable_sort(notes.begin(), notes.end(), [](const auto& a, const auto& b) {
        return a.order < b.order;
    }); // a note written anew keeps its place
    answer made;
    made.data = value::array();
    for (const auto& each : notes) {
        if (each.period != period || (!part.empty() && each.part != part)) continue;
        made.data.push_back({{"part", each.part}, {"text", each.text}, {"entry", each.entry}});
        made.say("[{}]\n{}\n\n", each.part, each.text);
    }
    if (made.data.empty())
        made.say("no note for {} yet; write one with: tarewell quarter note {} done 'what was done'\n", text, text);
    return made;
}

intake::change_summary keep_note(ledger::ledger_file& file, const std::string& quarter, const std::string& part,
                                 const std::string& text, const std::string& why, const ledger::surroundings& around) {
    refuse_slip_of(part);
    return record_or_correct(file, records::kind::note, {quarter, part}, {{"text", text}}, why, "written anew", around);
}

intake::change_summary confirm(ledger::ledger_file& file, const std::string& what, const std::string& id,
                               const std::string& why, const ledger::surroundings& around) {
    return record_or_correct(file, records::kind::confirmation, {what, id}, {{"seen", why}}, why, "", around);
}

std::string text_of_file(const std::string& path) {
    if (!std::filesystem::is_regular_file(path))
        throw records::io_error(fmt::format("{} is no file that can be read", path));
    std::ifstream in{path, std::ios::binary};
    std::string text{std::istreambuf_iterator<char>{in}, {}};
    if (!in || in.bad()) throw records::io_error(fmt::format("{} cannot be read", path));
    while (text.ends_with('\n') || text.ends_with('\r'))
        text.pop_back();
    return text;
}

} // namespace tarewell::desk
