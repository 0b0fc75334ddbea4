#include "intake/correction.hpp"

#include "intake/change_targets.hpp"
#include "intake/standing.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::intake {

using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

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

/// A change to shared columns goes to every row of the record, so that they go on agreeing.
bool touches_shared(const kind_info& kind, const named_values& changes) {
    return std::any_of(changes.begin(), changes.end(), [&](const auto& change) {
        const auto place = kind.find(change.first);
        return place && kind.columns[*place].shared;
    });
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

} // namespace

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

} // namespace tarewell::intake
