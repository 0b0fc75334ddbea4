#include "context.hpp"
#include "evidence_folder.hpp"
#include "figures/soundness.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "season_view.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

json entry_json(const ledger::journal_entry& entry) {
    return {{"entry", entry.seq},
            {"at", entry.at},
            {"who", entry.who},
            {"command", entry.command},
            {"kind", entry.kind},
            {"deed", entry.deed},
            {"why", entry.reason.empty() ? json(nullptr) : json(entry.reason)},
            {"replaces", entry.replaces ? json(*entry.replaces) : json(nullptr)},
            {"effective", entry.effective.empty() ? json(nullptr) : json(entry.effective)},
            {"source", entry.source.empty() ? json(nullptr) : json(entry.source)},
            {"line", entry.line ? json(*entry.line) : json(nullptr)},
            {"hash", entry.hash}};
}

std::string values_of(const ledger::ledger_file& file, const ledger::journal_entry& entry) {
    const auto* kind = ledger::find_kind(entry.kind);
    std::string values;
    if (kind == nullptr || entry.deed == "void") return values;
    file.with_entry(kind->which, entry.seq, [&](const ledger::stored_row& stored) {
        for (std::size_t i = 0; i < kind->columns.size(); ++i)
            if (!stored.values[i].empty() && !kind->columns[i].personal)
                values += fmt::format("{}{}={}", values.empty() ? "" : " ", kind->columns[i].name, stored.values[i]);
    });
    return values;
}

struct history_options {
    std::vector<std::string> record;
    bool json = false;
};

/// The entries of one record, from its first to its last revision.
std::vector<ledger::journal_entry> entries_of(const ledger::ledger_file& file, const std::vector<std::string>& record) {
    const auto* kind = ledger::find_kind(record[0]);
    if (kind == nullptr) throw ledger::input_error(fmt::format("'{}' is no kind of record, such as ticket", record[0]));
    std::string key = record.size() > 1 ? record[1] : "";
    if (record.size() > 2) key += " " + record[2];
    std::vector<ledger::journal_entry> found;
    std::vector<ledger::entry_no> mine;
    file.for_each_journal_entry(1, file.head().seq, [&](const ledger::journal_entry& entry) {
        if (entry.kind != kind->name) return;
        bool belongs = entry.replaces && std::find(mine.begin(), mine.end(), *entry.replaces) != mine.end();
        if (!belongs && entry.deed != "void")
            file.with_entry(kind->which, entry.seq, [&](const ledger::stored_row& stored) {
                belongs =
                    key.empty() || ledger::key_for_people(stored.values) == key || stored.values[kind->key[0]] == key;
            });
        if (!belongs) return;
        mine.push_back(entry.seq);
        found.push_back(entry);
    });
    if (found.empty())
        throw ledger::input_error(fmt::format("the ledger has no {} '{}'; mend the id", kind->name, key));
    return found;
}

void run_history(const history_options& how, context& with) {
    const auto file = with.open();
    std::vector<ledger::journal_entry> entries;
    if (!how.record.empty())
        entries = entries_of(file, how.record);
    else
        file.for_each_journal_entry(1, file.head().seq, [&](const auto& entry) { entries.push_back(entry); });
    if (how.json) {
        json list = json::array();
        for (const auto& entry : entries)
            list.push_back(entry_json(entry));
        with.out << list.dump(2) << '\n';
        return;
    }
    for (const auto& entry : entries) {
        with.out << fmt::format("{}  {}  {}  {} {}{}{}\n", entry.seq, entry.at, entry.who, entry.deed, entry.kind,
                                entry.replaces ? fmt::format(" (replaces {})", *entry.replaces) : std::string{},
                                entry.line ? fmt::format(" from {}:{}", entry.source, *entry.line) : std::string{});
        if (!entry.reason.empty()) with.out << "    why: " << entry.reason << '\n';
        if (const auto values = values_of(file, entry); !values.empty() && !how.record.empty())
            with.out << "    " << values << '\n';
    }
}

void run_check(bool as_json, context& with) {
    const auto file = with.open();
    const auto found = figures::unsound_in(file);
    if (!found.empty()) with.exit = findings;
    const auto head = file.head();
    if (as_json) {
        with.out << json{{"sound", found.empty()},
                         {"entries", head.seq},
                         {"head", ledger::hex(head.hash)},
                         {"findings", found}}
                        .dump(2)
                 << '\n';
        return;
    }
    for (const auto& each : found)
        with.out << each << '\n';
    with.out << (found.empty() ? fmt::format("sound: {} entries, head {}\n", head.seq, ledger::hex(head.hash))
                               : fmt::format("{} {}: keep this file as it is, and hold it against the last backup\n",
                                             found.size(), found.size() == 1 ? "finding" : "findings"));
}

void run_head(std::optional<ledger::entry_no> as_of, bool as_json, context& with) {
    const auto file = with.open();
    const auto head = as_of ? file.head_at(*as_of) : file.head();
    if (as_json)
        with.out << json{{"entry", head.seq}, {"at", head.at}, {"head", ledger::hex(head.hash)}}.dump(2) << '\n';
    else
        with.out << fmt::format("{}  entry {}  {}\n", ledger::hex(head.hash), head.seq, head.at);
}

void add_looking(const command& sub, context& with) {
    auto history = sub.add("history", "the journal, or the revisions of one record");
    auto& how = sub.keep<history_options>();
    history.value("RECORD", how.record, "a kind and its id, such as: ticket T0001").words(0, 3);
    history.flag("--json", how.json, "for machines");
    history.does([&how, &with] { run_history(how, with); });
    auto check = sub.add("check", "hold everything against everything (exit 1 when something is wrong)");
    auto& check_json = sub.keep<bool>();
    check.flag("--json", check_json, "for machines");
    check.does([&check_json, &with] { run_check(check_json, with); });
    auto head = sub.add("head", "the hash that stands for everything recorded so far");
    auto& head_json = sub.keep<bool>();
    auto& as_of = sub.keep<std::optional<ledger::entry_no>>();
    head.value("--as-of", as_of, "as the ledger stood after this entry");
    head.flag("--json", head_json, "for machines");
    head.does([&head_json, &as_of, &with] { run_head(as_of, head_json, with); });
}

void add_keeping(const command& sub, context& with) {
    auto backup = sub.add("backup", "copy the ledger, also while it is in use");
    auto& to = sub.keep<std::string>();
    backup.value("FILE", to, "a new file").required();
    backup.does([&to, &with] {
        const auto file = with.open();
        const auto head = ledger::back_up(file, to);
        with.out << fmt::format("backed up {} entries to {}; head {}\n", head.seq, to, ledger::hex(head.hash));
        if (std::filesystem::exists(intake::documents_folder(file)))
            with.out << "copy the folder of documents too: " << intake::documents_folder(file) << '\n';
    });
    auto restore = sub.add("restore", "put a backup in the ledger's place; never over newer entries");
    auto& from = sub.keep<std::string>();
    restore.value("BACKUP", from, "the backup's file").required();
    restore.does([&from, &with] {
        const auto kept = ledger::restore(from, with.path());
        with.out << fmt::format("restored {} from {}\n", with.path(), from);
        if (!kept.empty()) with.out << "the damaged file is kept as " << kept << '\n';
    });
    auto evidence = sub.add("evidence", "an auditor's folder: report, journal, documents, and how to check them");
    auto& quarter = sub.keep<std::string>();
    auto& folder = sub.keep<std::string>();
    evidence.value("QUARTER", quarter, "such as 2026-Q3").required();
    evidence.value("FOLDER", folder, "a new folder").required();
    evidence.does([&quarter, &folder, &with] { write_evidence_folder(quarter, folder, with); });
}

} // namespace

void add_ledger(const command& program, context& with) {
    auto sub = program.add("ledger", "the ledger itself: history, proof, backup");
    sub.wants_subcommand();
    add_looking(sub, with);
    add_keeping(sub, with);
}

} // namespace tarewell::cli
