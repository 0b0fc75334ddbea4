#include "intake/change_targets.hpp"
#include "intake/correction.hpp"
#include "intake/format_check.hpp"
#include "intake/intake.hpp"
#include "intake/rules.hpp"
#include "intake/standing.hpp"
#include "ledger/load_season.hpp"
#include "ledger/neighbourhood.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::intake {

using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

void refuse_void_award(const ledger_file& file, entry_no head) {
    const auto stands_on_it = [](const row& values) {
        return values.which != kind::award && info(values.which).under_award;
    };
    if (holds_any(file, head, stands_on_it))
        refuse_one("award", "is what the other records are counted by",
                   "correct its values instead, or void those records first");
}

bool done_before(const ledger_file& file, const std::string& once, change_summary& summary) {
    if (once.empty()) return false;
    const auto before = file.done_before(once);
    if (!before) return false;
    summary.note = fmt::format("done before as entries {} to {}; nothing was changed", before->first, before->second);
    return true;
}

/// A void that other records forbid: the first few of them, and how many more.
[[noreturn]] void refuse_void(const std::string& record, const std::vector<finding>& findings) {
    constexpr std::size_t enough = 10;
    std::vector<std::string> lines;
    for (const auto& each : findings) {
        if (lines.size() == enough) break;
        lines.push_back(
            fmt::format("{}: {} once {} is void; void or correct it first", each.column, each.what, record));
    }
    if (findings.size() > enough)
        lines.push_back(fmt::format("and {} more records; void or correct them first", findings.size() - enough));
    throw refused(std::move(lines));
}

void need_reason(const std::string& reason) {
    if (reason.empty()) refuse_one("--why", "is empty", "say in a sentence why");
}

/// Checks one row against the records that its rules can see. Returns false, with a note or findings, when it is not to
/// be appended; else its whole numbers are worked out. A record that was voided is new where `brings_back` may be told
/// the void that it replaces.
bool is_new(const ledger_file& file, row& values, std::vector<finding>& findings, std::string& note, sight of,
            std::optional<entry_no>* brings_back = nullptr) {
    const complaint complain = [&](std::string_view column, std::string what, std::string right) {
        findings.push_back({0, "--" + std::string{column}, std::move(what), std::move(right)});
    };
    const auto& kind = info(values.which);
    const auto head = file.head().seq;
    neighbourhood near{file, head};
    if (kind.under_award && near.rows(records::kind::award).empty()) {
        complain(kind.columns[0].name, "the ledger has no award yet", "record the award first");
        return false;
    }
    if (!check_text(values, complain)) return false;
    tell_words(values);
    if (!check_format(values, complain)) return false;
    const auto line = line_of_key(file, values, head);
    if (line.now && line.now->voided && brings_back != nullptr) {
        *brings_back = line.now->entry;
    } else if (line.now) {
        const auto where = stand(
            file, values, *line.now, [&] { return line.earlier; }, complain, note);
        if (where == standing::known && note.empty()) note = "the ledger holds this already; nothing was changed";
        return false;
    }
    near.around(values);
    season among = of == sight::whole_season ? load_season(file, head) : near.season();
    rules by{among};
    if (!by.check(values, complain)) return false;
    work_out(values, among);
    by.admit(values, head + 1, 0);
    by.finish(values.which, [&](std::size_t, std::string_view column, std::string what, std::string right) {
        complain(column, std::move(what), std::move(right));
    });
    return findings.empty();
}

constexpr const char* same_values = "the ledger holds these values already; nothing was changed";

/// Commits what was written unless it is held back.
void commit(writer& writing, change_summary& summary, const agreement& agree) {
    if (agree && !agree(summary.entries)) {
        summary.entries.clear();
        summary.held_back = true;
        return;
    }
    writing.commit();
}

} // namespace

change_summary record(ledger_file& to, kind which, const named_values& values, const surroundings& around,
                      const std::string& once, const std::string& reason, sight of, const agreement& agree) {
    change_summary summary;
    writer writing{to, around};
    if (done_before(to, once, summary)) return summary;
    owned_row made{which};
    for (const auto& [name, text] : values)
        made.set(info(which).index_of(name), text);
    std::vector<finding> findings;
    const bool fresh = is_new(to, made.values(), findings, summary.note, of);
    if (!findings.empty()) refuse(findings);
    if (!fresh) return summary;
    writing.begin({"record " + std::string{info(which).name}, reason, once});
    summary.entries = {writing.append(made.values())};
    commit(writing, summary, agree);
    return summary;
}

change_summary change_all(ledger_file& to, const std::string& deed, const std::function<void(const deeds&)>& body,
                          const surroundings& around, const std::string& once, const std::string& reason) {
    change_summary summary;
    writer writing{to, around};
    if (done_before(to, once, summary)) return summary;
    writing.begin({deed, reason, once});
    const auto record_row = [&](kind which, const named_values& values) {
        owned_row made{which};
        for (const auto& [name, text] : values)
            made.set(info(which).index_of(name), text);
        std::vector<finding> findings;
        std::string note;
        std::optional<entry_no> brings_back;
        const bool fresh = is_new(to, made.values(), findings, note, sight::neighbours, &brings_back);
        if (!findings.empty()) refuse(findings);
        if (!fresh)
            refuse_one(fmt::format("{} {}", info(which).name, key_for_people(made.values())), "is there already",
                       "give another id");
        summary.entries.push_back(brings_back ? writing.append(made.values(), deed::correct, *brings_back)
                                              : writing.append(made.values()));
    };
    body({record_row, [&](kind which, const std::vector<std::string>& key, const named_values& changes) {
              need_reason(reason);
              const auto entries = append_correction(writing, to, which, key, changes, sight::neighbours);
              summary.entries.insert(summary.entries.end(), entries.begin(), entries.end());
          }});
    if (summary.entries.empty()) summary.note = same_values;
    writing.commit();
    return summary;
}

change_summary record_all(ledger_file& to, const std::string& deed, const std::function<void(const record_one&)>& body,
                          const surroundings& around, const std::string& once, const std::string& reason) {
    return change_all(
        to, deed, [&](const deeds& may) { body(may.record); }, around, once, reason);
}

change_summary correct(ledger_file& to, kind which, const std::vector<std::string>& key, const named_values& changes,
                       const std::string& reason, const surroundings& around, const std::string& once, sight of,
                       const agreement& agree) {
    check_key(info(which), key);
    need_reason(reason);
    change_summary summary;
    writer writing{to, around};
    if (done_before(to, once, summary)) return summary;
    writing.begin({"correct " + std::string{info(which).name}, reason, once});
    summary.entries = append_correction(writing, to, which, key, changes, of);
    if (summary.entries.empty())
        summary.note = same_values;
    else
        commit(writing, summary, agree);
    return summary;
}

change_summary void_record(ledger_file& to, kind which, const std::vector<std::string>& key, const std::string& reason,
                           const surroundings& around, const std::string& once, sight of, const agreement& agree) {
    const auto& kind = info(which);
    check_key(kind, key);
    need_reason(reason);
    change_summary summary;
    writer writing{to, around};
    if (done_before(to, once, summary)) return summary;
    const auto head = to.head().seq;
    const auto targets = targets_of(to, which, key, head, false);
    if (targets.empty()) {
        if (!targets_of(to, which, key, head, true).empty()) {
            summary.note = fmt::format("{} is voided already; nothing was changed", key_text(kind, key));
            return summary;
        }
        refuse_one(std::string{kind.name}, fmt::format("the ledger holds no {}", key_text(kind, key)), "mend the id");
    }
    if (which == kind::award) refuse_void_award(to, head);
    substitutions taken_out;
    for (const auto& each : targets)
        taken_out.emplace(each.row_entry, nullptr);
    const auto findings = replay_change(to, head, which, targets, taken_out, {}, neighbourhood::naming::any, of);
    if (!findings.empty()) refuse_void(key_text(kind, key), findings);
    writing.begin({"void " + std::string{kind.name}, reason, once});
    for (const auto& each : targets)
        summary.entries.push_back(writing.append_void(which, each.replaces));
    commit(writing, summary, agree);
    return summary;
}

} // namespace tarewell::intake
