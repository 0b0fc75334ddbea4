#include "intake/change_all.hpp"
#include "intake/format_check.hpp"
#include "intake/intake.hpp"
#include "intake/replay.hpp"
#include "intake/rules.hpp"
#include "intake/standing.hpp"
#include "ledger/load_season.hpp"
#include "ledger/neighbourhood.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

/// A row that stands to be replaced, with the entry that its replacement names.
struct target {
    entry_no row_entry = 0; ///< of the row's values
    entry_no replaces = 0;  ///< the entry in force: the row's own, or the void's
    owned_row values;
};

[[noreturn]] void refuse(const std::vector<finding>& findings) {
    std::vector<std::string> lines;
    for (const auto& each : findings)
        lines.push_back(fmt::format("{}: {}; {}", each.column, each.what, each.right));
    throw refused(std::move(lines));
}

[[noreturn]] void refuse_one(const std::string& column, std::string what, std::string right) {
    refuse({{0, column, std::move(what), std::move(right)}});
}

bool holds_any(const ledger_file& file, entry_no head, const std::function<bool(const row&)>& of_this_sort) {
    bool found = false;
    for (const auto& kind : all_kinds())
        file.for_each(kind.which, head,
                      [&](const stored_row& stored) { found = found || of_this_sort(stored.values); });
    return found;
}

/// Weights stand in the ledger in the award's unit: it can't change under them.
void refuse_other_unit(const ledger_file& file, entry_no head) {
    const auto is_weight = [](const row& values) {
        const auto& numbers = info(values.which).worked_out;
        return !numbers.empty() && numbers[0].how == whole_number::thousandths && values.worked_out[0].has_value();
    };
    if (holds_any(file, head, is_weight))
        refuse_one("--unit", "cannot change: weights are counted in it already",
                   "make a new ledger in the other unit and take the files in there");
}

void refuse_void_award(const ledger_file& file, entry_no head) {
    const auto stands_on_it = [](const row& values) {
        return values.which != kind::award && info(values.which).under_award;
    };
    if (holds_any(file, head, stands_on_it))
        refuse_one("award", "is what the other records are counted by",
                   "correct its values instead, or void those records first");
}

bool matches(const row& values, const std::vector<std::string>& key) {
    const auto& kind = info(values.which);
    for (std::size_t i = 0; i < key.size() && i < kind.key_columns; ++i)
        if (values[kind.key[i]] != key[i]) return false;
    return true;
}

std::string key_text(const kind_info& kind, const std::vector<std::string>& key) {
    return fmt::format("{} {}", kind.name, fmt::join(key, " "));
}

void check_key(const kind_info& kind, const std::vector<std::string>& key) {
    if (key.empty() || key.size() > kind.key_columns) {
        std::vector<std::string_view> names;
        for (std::size_t i = 0; i < kind.key_columns; ++i)
            names.push_back(kind.columns[kind.key[i]].name);
        refuse_one(std::string{kind.name}, fmt::format("{} parts of a key are given", key.size()),
                   fmt::format("a {} is named by its {}", kind.name, fmt::join(names, " and ")));
    }
}

/// The rows in force that a key names; with `with_voided`, those whose latest revision is a void too.
std::vector<target> targets_of(const ledger_file& file, kind which, const std::vector<std::string>& key, entry_no head,
                               bool with_voided) {
    std::vector<target> found;
    const auto id_column = info(which).columns[info(which).key[0]].name;
    const auto keep = [&](const stored_row& stored) {
        if (matches(stored.values, key)) found.push_back({stored.entry, stored.entry, owned_row{stored.values}});
    };
    file.for_each_with(which, id_column, key[0], head, keep, ledger_file::which_rows::ever);
    for (auto& each : found)
        if (const auto replaced = file.replaced_by(each.row_entry))
            each.replaces = with_voided && replaced->voids && !file.replaced_by(replaced->by) ? replaced->by : 0;
    std::erase_if(found, [](const target& each) { return each.replaces == 0; });
    // Those in force first, then the voided ones in the order of their voids.
    std::stable_sort(found.begin(), found.end(), [](const target& a, const target& b) {
        const bool a_voided = a.row_entry != a.replaces, b_voided = b.row_entry != b.replaces;
        return std::pair{a_voided, a.replaces} < std::pair{b_voided, b.replaces};
    });
    return found;
}

/// Of a record's rows some may be voided: those stay so, unless the key names the row or none is in force.
void leave_voided(std::vector<target>& targets, const std::vector<std::string>& key) {
    const auto is_voided = [](const target& each) { return each.row_entry != each.replaces; };
    if (std::all_of(targets.begin(), targets.end(), is_voided)) return;
    std::erase_if(targets, [&](const target& each) {
        const bool named =
            key.size() == info(each.values.values().which).key_columns && matches(each.values.values(), key);
        return is_voided(each) && !named;
    });
}

/// A change's replay: of the records whose rules it can move, or of all where the kind moves all.
std::vector<finding> replay_change(const ledger_file& file, entry_no head, kind which,
                                   const std::vector<target>& targets, const substitutions& changed,
                                   const std::vector<const row*>& brought_back, neighbourhood::naming how, sight of) {
    if (of == sight::whole_season || info(which).moves_all)
        return replay(all_rows(file, head), head + 1, changed, brought_back);
    neighbourhood near{file, head};
    for (const auto& each : targets) {
        near.around(each.values.values());
        file.with_entry(which, each.row_entry, [&](const stored_row& before) {
            const owned_row old{before.values};
            near.around(old.values());
        });
        near.who_name(each.values.values(), how);
    }
    return replay(
        [&](kind one, const std::function<void(entry_no, const row&)>& each) {
            for (const auto& [entry, stored] : near.rows(one))
                each(entry, stored.values());
        },
        head + 1, changed, brought_back);
}

bool done_before(const ledger_file& file, const std::string& once, change_summary& summary) {
    if (once.empty()) return false;
    const auto before = file.done_before(once);
    if (!before) return false;
    summary.note = fmt::format("done before as entries {} to {}; nothing was changed", before->first, before->second);
    return true;
}

void apply_changes(target& each, const named_values& changes, bool whole_record) {
    const auto& kind = info(each.values.values().which);
    for (const auto& [name, text] : changes) {
        const auto place = kind.find(name);
        if (!place)
            refuse_one("--" + name, "is no column of a " + std::string{kind.name}, "see the columns with --help");
        if (kind.is_key(*place))
            refuse_one("--" + name, "is part of the key, which names the record for good",
                       "void the record and record it under the right id");
        if (whole_record && !kind.columns[*place].shared)
            refuse_one("--" + name, fmt::format("belongs to one row of the {}", kind.columns[kind.key[0]].name),
                       fmt::format("name the row too: tarewell correct {} {} {}", kind.name,
                                   each.values.values()[kind.key[0]], each.values.values()[kind.key[1]]));
        each.values.set(*place, text);
    }
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

/// A change to shared columns goes to every row of the record, so that they go on agreeing.
bool touches_shared(const kind_info& kind, const named_values& changes) {
    return std::any_of(changes.begin(), changes.end(), [&](const auto& change) {
        const auto place = kind.find(change.first);
        return place && kind.columns[*place].shared;
    });
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

/// A replay takes an erased grower as they were, since merges from before stay: who is named by a correction, or by one
/// that brings a voided merge back, is looked at here, as records::check looks at a new one.
void refuse_merge_of_erased(const ledger_file& file, entry_no head, const row& before, const target& now) {
    const bool brings_back = now.row_entry != now.replaces;
    for (const std::string column : {"grower", "into"}) {
        const auto id = now.values.values()[column];
        if (!brings_back && before[column] == id) continue;
        file.for_each_with(kind::grower, "grower", id, head, [&](const stored_row& stored) {
            if (is_erased(stored.values))
                refuse_one("--" + column, fmt::format("names '{}', whose details were erased on request", id),
                           "leave the two apart: nobody can say any more that they are one person");
        });
    }
}

constexpr const char* same_values = "the ledger holds these values already; nothing was changed";

/// Appends what replaces a record to the act that is begun; nothing where the ledger holds these values already.
std::vector<entry_no> append_correction(writer& writing, ledger_file& to, kind which,
                                        const std::vector<std::string>& key, const named_values& changes, sight of) {
    const auto& kind = info(which);
    const auto head = to.head().seq;
    std::vector<std::string> named = key;
    // A shared column of one row is changed in all rows of its record, so that they go on agreeing.
    if (named.size() == 2 && touches_shared(kind, changes)) named.pop_back();
    auto targets = targets_of(to, which, named, head, true);
    if (targets.empty())
        refuse_one(std::string{kind.name}, fmt::format("the ledger holds no {}", key_text(kind, key)), "mend the id");
    leave_voided(targets, key);
    substitutions changed;
    std::vector<const row*> brought_back;
    std::vector<const target*> written;
    for (auto& each : targets) {
        const owned_row before{each.values};
        apply_changes(each, changes, named.size() < kind.key_columns);
        tell_words(each.values.values());
        bool same = each.row_entry == each.replaces;
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            same = same && same_value(kind.columns[i], before.values()[i], each.values.values()[i]);
        if (same) continue;
        if (which == kind::award && each.values.values()["unit"] != before.values()["unit"])
            refuse_other_unit(to, head);
        if (which == kind::merge) refuse_merge_of_erased(to, head, before.values(), each);
        if (each.row_entry == each.replaces)
            changed.emplace(each.row_entry, &each.values.values());
        else
            brought_back.push_back(&each.values.values());
        written.push_back(&each);
    }
    if (written.empty()) return {};
    const auto findings =
        replay_change(to, head, which, targets, changed, brought_back, neighbourhood::naming::looked_at, of);
    if (!findings.empty()) refuse(findings);
    const season terms = neighbourhood{to, head}.season();
    std::vector<entry_no> entries;
    for (const auto* each : written) {
        row values = each->values.values();
        work_out(values, terms);
        entries.push_back(writing.append(values, deed::correct, each->replaces));
    }
    return entries;
}

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
