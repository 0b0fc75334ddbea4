#include "intake/undo.hpp"

#include "intake/replay.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

namespace tarewell::intake {
namespace {

using ledger::journal_entry;
using ledger::ledger_file;
using records::entry_no;
using records::kind;

constexpr std::string_view command_name = "undo";

std::string key_of_entry(const ledger_file& file, kind which, entry_no entry) {
    std::string key;
    file.with_entry(which, entry,
                    [&](const ledger::stored_row& stored) { key = records::key_for_people(stored.values); });
    return key;
}

/// What must be done in place of undoing an entry; empty where it can be voided.
std::string other_way(const journal_entry& entry, const records::kind_info& kind, bool brought_back) {
    if (entry.kind == "closing") return "take the closing back with: tarewell quarter withdraw";
    if (kind.internal) return "what was attached or erased stays so";
    if (entry.deed == "void") return "bring the record back with: tarewell correct";
    if (entry.deed == "correct" && !brought_back) return "correct the record again with: tarewell correct";
    return {};
}

std::vector<journal_entry> entries_of(const ledger_file& file, const std::vector<std::int64_t>& acts) {
    const std::set<std::int64_t> wanted{acts.begin(), acts.end()};
    std::set<std::int64_t> found;
    std::vector<journal_entry> entries;
    file.for_each_journal_entry(1, file.head().seq, [&](const journal_entry& entry) {
        if (!wanted.contains(entry.act)) return;
        found.insert(entry.act);
        entries.push_back(entry);
    });
    for (const auto act : wanted)
        if (!found.contains(act))
            throw records::input_error(
                fmt::format("the ledger has no act {}; see: tarewell ledger history --acts", act));
    return entries;
}

bool is_void(const ledger_file& file, entry_no entry) {
    bool found = false;
    file.for_each_journal_entry(entry, entry, [&](const journal_entry& each) { found = each.deed == "void"; });
    return found;
}

/// Records of the award's terms cannot stay without the award.
void look_at_award(const ledger_file& file, const substitutions& taken_out, std::vector<std::string>& standing) {
    bool award_goes = false;
    file.for_each(kind::award, file.head().seq, [&](const ledger::stored_row& stored) {
        award_goes = award_goes || taken_out.contains(stored.entry);
    });
    if (!award_goes) return;
    for (const auto& kind : records::all_kinds()) {
        std::size_t left = 0;
        if (kind.which == records::kind::award || !kind.under_award) continue;
        file.for_each(kind.which, file.head().seq,
                      [&](const ledger::stored_row& stored) { left += taken_out.contains(stored.entry) ? 0 : 1; });
        if (left > 0) standing.push_back(fmt::format("{} of {} are counted in the award's terms", left, kind.file));
    }
}

void refuse_standing(const std::vector<std::string>& standing) {
    constexpr std::size_t enough = 10;
    std::vector<std::string> lines;
    for (const auto& each : standing) {
        if (lines.size() == enough) break;
        lines.push_back(each + "; void or correct that first, or undo its act too");
    }
    if (standing.size() > enough) lines.push_back(fmt::format("and {} more records", standing.size() - enough));
    throw records::refused(std::move(lines));
}

} // namespace

bool is_undo(std::string_view command) { return command.starts_with(command_name); }

undo_plan plan_undo(const ledger_file& of, const std::vector<std::int64_t>& acts) {
    undo_plan plan;
    std::vector<std::string> faults;
    substitutions taken_out;
    for (const auto& entry : entries_of(of, acts)) {
        const auto* kind = records::find_kind(entry.kind);
        const bool brought_back = entry.replaces && is_void(of, *entry.replaces);
        if (const auto way = other_way(entry, *kind, brought_back); !way.empty()) {
            faults.push_back(fmt::format("act {} is no import or record: {} ({}, entry {}); {}", entry.act,
                                         entry.command, entry.kind, entry.seq, way));
            continue;
        }
        const auto key = key_of_entry(of, kind->which, entry.seq);
        const auto replaced = of.replaced_by(entry.seq);
        if (replaced && replaced->voids) continue; // already
        if (replaced) {
            plan.standing.push_back(fmt::format("{} {} was corrected by entry {}", kind->name, key, replaced->by));
            continue;
        }
        taken_out.emplace(entry.seq, nullptr);
        plan.records.push_back({entry.seq, kind->which, key});
    }
    if (!faults.empty()) throw records::refused(std::move(faults));
    look_at_award(of, taken_out, plan.standing);
    const auto head = of.head().seq;
    if (plan.standing.empty())
        for (const auto& each : replay(all_rows(of, head), head + 1, taken_out, {}))
            plan.standing.push_back(fmt::format("{}: {} then", each.column, each.what));
    return plan;
}

change_summary undo(ledger_file& in, const std::vector<std::int64_t>& acts, const std::string& why,
                    const ledger::surroundings& around) {
    if (why.empty()) throw records::input_error("--why is empty; say in a sentence why");
    ledger::writer writing{in, around};
    const auto plan = plan_undo(in, acts);
    if (!plan.standing.empty()) refuse_standing(plan.standing);
    change_summary summary;
    if (plan.records.empty()) {
        summary.note = "all of it is voided already; nothing was changed";
        return summary;
    }
    writing.begin({fmt::format("{} {}", command_name, fmt::join(acts, " ")), why});
    for (auto each = plan.records.rbegin(); each != plan.records.rend(); ++each)
        summary.entries.push_back(writing.append_void(each->which, each->entry));
    writing.commit();
    return summary;
}

} // namespace tarewell::intake
