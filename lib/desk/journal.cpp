#include "desk/journal.hpp"

#include "figures/soundness.hpp"
#include "intake/csv.hpp"
#include "ledger/quick_season.hpp"
#include "records/nearest_name.hpp"

#include <algorithm>
#include <set>

namespace tarewell::desk {
namespace {

using ledger::journal_entry;
using ledger::stored_row;

value or_null(std::string_view text) { return text.empty() ? value{} : value{text}; }

/// The entries of one record, from its first to its last revision.
std::vector<journal_entry> entries_of(const looked_at& at, const std::vector<std::string>& record) {
    const auto* kind = records::find_kind(record[0]);
    if (kind == nullptr)
        throw records::input_error(fmt::format("'{}' is no kind of record, such as ticket{}", record[0],
                                               records::did_you_mean(record[0], records::names_of_kinds())));
    std::string key = record.size() > 1 ? record[1] : "";
    if (record.size() > 2) key += " " + record[2];
    std::vector<journal_entry> found;
    std::vector<entry_no> mine;
    at.file.for_each_journal_entry(1, at.head.seq, [&](const journal_entry& entry) {
        if (entry.kind != kind->name) return;
        bool belongs = entry.replaces && std::find(mine.begin(), mine.end(), *entry.replaces) != mine.end();
        if (!belongs && entry.deed != "void")
            at.file.with_entry(kind->which, entry.seq, [&](const stored_row& stored) {
                belongs =
                    key.empty() || records::key_for_people(stored.values) == key || stored.values[kind->key[0]] == key;
            });
        if (!belongs) return;
        mine.push_back(entry.seq);
        found.push_back(entry);
    });
    if (found.empty())
        throw records::input_error(fmt::format("the ledger has no {} '{}'; mend the id", kind->name, key));
    return found;
}

std::string values_of(const ledger::ledger_file& file, const journal_entry& entry) {
    const auto* kind = records::find_kind(entry.kind);
    std::string values;
    if (kind != nullptr && entry.deed != "void")
        file.with_entry(kind->which, entry.seq, [&](const stored_row& stored) { values = written_values(stored); });
    return values;
}

} // namespace

std::string written_values(const stored_row& stored, const std::vector<std::size_t>& less) {
    const auto& columns = records::info(stored.values.which).columns;
    std::string values;
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (!stored.values[i].empty() && !columns[i].personal && std::find(less.begin(), less.end(), i) == less.end())
            values += fmt::format("{}{}={}", values.empty() ? "" : " ", columns[i].name, stored.values[i]);
    return values;
}

answer history_of(const looked_at& at, const std::vector<std::string>& record) {
    std::vector<journal_entry> entries;
    if (!record.empty())
        entries = entries_of(at, record);
    else
        at.file.for_each_journal_entry(1, at.head.seq, [&](const auto& entry) { entries.push_back(entry); });
    answer made;
    made.data = value::array();
    for (const auto& entry : entries) {
        made.data.push_back({{"entry", entry.seq},
                             {"act", entry.act},
                             {"at", entry.at},
                             {"who", entry.who},
                             {"command", entry.command},
                             {"kind", entry.kind},
                             {"deed", entry.deed},
                             {"why", or_null(entry.reason)},
                             {"replaces", entry.replaces},
                             {"effective", or_null(entry.effective)},
                             {"source", or_null(entry.source)},
                             {"line", entry.line},
                             {"hash", entry.hash}});
        made.say("{}  act {}  {}  {}  {} {}{}{}\n", entry.seq, entry.act, entry.at, entry.who, entry.deed, entry.kind,
                 entry.replaces ? fmt::format(" (replaces {})", *entry.replaces) : std::string{},
                 entry.line ? fmt::format(" from {}:{}", entry.source, *entry.line) : std::string{});
        if (!entry.reason.empty()) made.say("    why: {}\n", entry.reason);
        if (record.empty()) continue;
        if (const auto values = values_of(at.file, entry); !values.empty()) made.say("    {}\n", values);
    }
    return made;
}

namespace {

/// What a check says of the image beside a ledger; nothing where there is none.
std::string told_of_image(const ledger::ledger_file& file, const ledger::image_check& image) {
    using state = ledger::image_check::state;
    const auto path = file.path() + ".image";
    switch (image.found) {
    case state::none:
        return {};
    case state::held:
        return fmt::format("{} holds the same rows through entry {}", path, image.reach);
    case state::made_anew:
        return fmt::format("{} was made through entry {}: {}", path, image.reach, image.what);
    case state::differs:
        return fmt::format(
            "{} held other rows than the ledger ({}); it was made anew, so figures shown before may have "
            "been wrong: show them again",
            path, image.what);
    }
    return {};
}

} // namespace

answer soundness_of(const looked_at& at) {
    auto wrong = figures::unsound_in(at.file);
    const auto image = ledger::check_image(at.file);
    const auto of_image = told_of_image(at.file, image);
    const bool differs = image.found == ledger::image_check::state::differs;
    if (differs) wrong.push_back(of_image);
    const auto& head = at.head;
    const auto hash = ledger::hex(head.hash);
    answer made;
    made.found = !wrong.empty();
    made.data = {{"sound", wrong.empty()}, {"entries", head.seq}, {"head", hash}, {"findings", wrong}};
    if (!of_image.empty()) made.data["image"] = of_image;
    for (const auto& each : wrong)
        made.say("{}\n", each);
    if (!of_image.empty() && !differs) made.say("{}\n", of_image);
    if (wrong.empty())
        made.say("OK: {} entries, fingerprint {}\n", head.seq, hash);
    else
        made.say("{}: keep this file as it is, and hold it against the last backup\n",
                 counted(wrong.size(), "finding", "findings"));
    return made;
}

answer head_of(const looked_at& at, std::optional<entry_no> as_of) {
    const auto head = as_of ? at.file.head_at(*as_of) : at.head;
    answer made;
    made.data = {{"entry", head.seq}, {"at", head.at}, {"head", ledger::hex(head.hash)}};
    made.say("{}  entry {}  {}\n", ledger::hex(head.hash), head.seq, head.at);
    return made;
}

answer documents_of(const looked_at& at, bool missing) {
    const auto head = at.head.seq;
    table listed{missing ? std::vector<std::string>{"record", "named in the record=document"}
                         : std::vector<std::string>{"record", "name", "sha256"}};
    std::set<std::string> attached;
    at.file.for_each(records::kind::document, head, [&](const stored_row& stored) {
        attached.emplace(stored.values["record"]);
        if (!missing) listed.add({stored.values["record"], stored.values["name"], stored.values["sha256"]});
    });
    answer made;
    if (missing)
        for (const auto which :
             {records::kind::cost, records::kind::ticket, records::kind::reject, records::kind::acceptance})
            at.file.for_each(which, head, [&](const stored_row& stored) {
                const auto& kind = records::info(which);
                const auto key = fmt::format("{} {}", kind.name, records::key_for_people(stored.values));
                if (attached.contains(key)) return;
                listed.add({key, stored.values["document"]});
                made.found = true;
            });
    made.tell(listed);
    return made;
}

} // namespace tarewell::desk
