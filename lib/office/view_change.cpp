#include "desk/keeping.hpp"
#include "desk/look_up.hpp"
#include "desk/next_record.hpp"
#include "desk/remains.hpp"
#include "intake/intake.hpp"
#include "office/entry_form.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::office {
namespace {

using records::entry_no;

/// The row of an entry: a void's is the row that it voids.
entry_no row_of(const ledger::ledger_file& file, entry_no entry) {
    entry_no row = entry;
    file.for_each_journal_entry(entry, entry, [&](const ledger::journal_entry& told) {
        if (told.deed == "void" && told.replaces) row = *told.replaces;
    });
    return row;
}

/// The record's values as of the entry that was shown.
std::map<std::string, std::string> values_of(const ledger::ledger_file& file, const records::kind_info& kind,
                                             entry_no shown, const std::vector<std::string>& key) {
    std::map<std::string, std::string> values;
    file.with_entry(kind.which, row_of(file, shown), [&](const ledger::stored_row& stored) {
        if (stored.values[kind.key[0]] != key[0]) return;
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            values[std::string{kind.columns[i].name}] = stored.values[i];
    });
    if (values.empty())
        throw records::input_error(fmt::format("the ledger has no {} {}", kind.name, fmt::join(key, " ")));
    return values;
}

entry_no entry_in(const form& sent) {
    const auto text = sent.text("shown");
    if (text.empty() || text.size() > 15 || text.find_first_not_of("0123456789") != std::string::npos)
        throw records::input_error("the form does not say which entry it showed; load the record's page again");
    return std::stoll(text);
}

/// Where somebody else was there first, nothing is written over what nobody here has seen: of the entries about to be
/// committed, one must replace what the form showed.
bool replaces_what_was_shown(const ledger::ledger_file& file, const std::vector<entry_no>& entries, entry_no shown) {
    bool good = false;
    for (const auto entry : entries)
        file.for_each_journal_entry(
            entry, entry, [&](const ledger::journal_entry& written) { good = good || written.replaces == shown; });
    return good;
}

response told_of_change(state& of, const records::kind_info& kind, const std::vector<std::string>& key,
                        const intake::change_summary& change, desk::echo read_as, const char* verb) {
    said told{std::move(read_as), change.note, std::string{kind.name}, key[0], key.size() > 1 ? key[1] : ""};
    if (!change.entries.empty()) told.heading = fmt::format("{} by entry {}.", verb, fmt::join(change.entries, ", "));
    const auto name = of.around.random();
    of.told.keep(name, std::move(told));
    return sent_on(record_link(kind.name, key[0], key.size() > 1 ? key[1] : "") + "&told=" + name);
}

response meanwhile(const state& of, const records::kind_info& kind, const std::vector<std::string>& key) {
    return message(
        of, 409, "Changed meanwhile",
        {fmt::format("The {} {} was changed by another tab or terminal after this form was opened. Nothing was "
                     "changed now.",
                     kind.name, fmt::join(key, " ")),
         "Look at the record again, and correct it anew where that is still needed."});
}

} // namespace

entry_no stands_as(const ledger::ledger_file& file, const records::kind_info& kind,
                   const std::vector<std::string>& key) {
    entry_no last = 0;
    file.for_each_with(
        kind.which, kind.columns[kind.key[0]].name, key[0], file.head().seq,
        [&](const ledger::stored_row& stored) {
            if (key.size() < 2 || stored.values[kind.key[1]] == key[1]) last = std::max(last, stored.entry);
        },
        ledger::ledger_file::which_rows::ever);
    const auto replaced = file.replaced_by(last);
    return replaced ? replaced->by : last;
}

response show_change(state& of, const call& from) {
    const auto& kind = kind_of(from.query);
    const auto key = key_of(from.query);
    auto& file = of.kept.file();
    const auto shown = stands_as(file, kind, key);
    entry_form form{kind, values_of(file, kind, shown, key)};
    form.correcting = entry_form::correction{key, shown, {}};
    if (kind.key_columns == 2 && key.size() < 2)
        form.correcting->key.push_back(form.values[std::string{kind.columns[kind.key[1]].name}]);
    return show_form(of, form);
}

response take_change(state& of, const call& from) {
    const auto& kind = kind_of(from.sent);
    const auto key = key_of(from.sent);
    const auto shown = entry_in(from.sent);
    auto& file = of.kept.file();
    entry_form form{kind, values_in(from.sent, kind)};
    form.once = from.sent.text("once");
    form.correcting = entry_form::correction{key, shown, from.sent.text("why")};
    const auto before = values_of(file, kind, shown, key);
    if (kind.which == records::kind::ticket)
        if (const auto net = desk::net_reworked(before, form.values); !net.empty()) {
            form.wrong = {{"net", fmt::format("gross less tare is {} now, and is proposed here in place of {}: look at "
                                              "the paper, and send it",
                                              net, before.at("net"))}};
            form.values["net"] = net;
            return show_form(of, form, 422);
        }
    intake::named_values changes;
    for (const auto& [name, text] : form.values)
        if (text != before.at(name) && !kind.is_key(*kind.find(name))) changes[name] = text;
    std::optional<desk::echo> read_as;
    bool stale = false;
    const bool looks = from.sent.has("look");
    try {
        desk::look_up names{file, of.kept.at_hand()};
        names.put_ids(kind.which, changes);
        const auto change = intake::correct(
            file, kind.which, key, changes, form.correcting->why, of.around, form.once, intake::sight::neighbours,
            [&](const std::vector<entry_no>& entries) {
                stale = !replaces_what_was_shown(file, entries, shown);
                read_as = of.kept.echo_of(kind.which, entries);
                return !stale && !looks && (!read_as->blocks() || from.sent.text("sure") == mark_of(*read_as));
            });
        if (stale) return meanwhile(of, kind, key);
        if (change.held_back) {
            (looks ? form.look : form.held) = &*read_as;
            return show_form(of, form, looks ? 200 : 422);
        }
        return told_of_change(of, kind, key, change, read_as.value_or(desk::echo{}), "Corrected");
    } catch (const records::refused& refusal) {
        form.wrong = errors_of(refusal, kind);
        return show_form(of, form, 422);
    }
}

response take_void(state& of, const call& from) {
    const auto& kind = kind_of(from.sent);
    const auto key = key_of(from.sent);
    const auto shown = entry_in(from.sent);
    auto& file = of.kept.file();
    bool stale = false;
    const auto change = intake::void_record(file, kind.which, key, from.sent.text("why"), of.around, {},
                                            intake::sight::neighbours, [&](const std::vector<entry_no>& entries) {
                                                stale = !replaces_what_was_shown(file, entries, shown);
                                                return !stale;
                                            });
    if (stale) return meanwhile(of, kind, key);
    desk::echo read_as;
    read_as.filed = desk::filed_without(file, of.kept.season().season, change.entries);
    if (!change.entries.empty())
        for (auto& line : desk::what_remains(file, change.entries.front() - 1))
            read_as.filed.push_back(std::move(line));
    return told_of_change(of, kind, key, change, std::move(read_as), "Voided");
}

response take_confirmation(state& of, const call& from) {
    const auto what = from.sent.text("what"), id = from.sent.text("id");
    const auto change = desk::confirm(of.kept.file(), what, id, from.sent.text("why"), of.around);
    const auto& kind = *records::find_kind(what == "registration" ? "cover" : "ticket");
    return told_of_change(of, kind, {id}, change, {}, "Confirmed");
}

} // namespace tarewell::office
