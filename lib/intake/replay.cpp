#include "intake/replay.hpp"

#include "intake/format_check.hpp"
#include "intake/intake.hpp"
#include "intake/rules.hpp"

#include <fmt/format.h>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

void check_substituted(const row& values, rules& by, std::vector<finding>& findings, const season& among,
                       entry_no entry, bool stored_numbers = false) {
    const auto name = fmt::format("{} {}", info(values.which).name, key_for_people(values));
    const complaint complain = [&](std::string_view column, std::string what, std::string right) {
        findings.push_back({0, fmt::format("{} ({})", column, name), std::move(what), std::move(right)});
    };
    // Where the award itself is refused, nothing can be held against it.
    if (info(values.which).under_award && !among.the_award) return by.refused.excuse(values);
    row worked = values;
    if (!check_text(worked, complain) || !check_format(worked, complain) || !by.check(worked, complain))
        return by.refused.excuse(values);
    work_out(worked, among);
    if (stored_numbers && worked.worked_out != values.worked_out)
        findings.push_back(
            {0, name, "keeps other whole numbers than its texts give", "restore the ledger from a backup"});
    by.admit(worked, entry, static_cast<std::size_t>(entry));
}

/// What was erased on request is no fault.
row without_erasure(row values) {
    const auto columns = info(values.which).columns;
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].personal && columns[i].required && values[i].empty()) values.cells[i] = "(erased)";
    return values;
}

} // namespace

std::vector<finding> replay(const rows_in_force& rows, entry_no next, const substitutions& changed,
                            const std::vector<const row*>& brought_back) {
    season fresh;
    rules by{fresh};
    std::vector<finding> findings;
    for (const auto& kind : recorded_kinds()) {
        rows(kind.which, [&](entry_no entry, const row& values) {
            const auto found = changed.find(entry);
            if (found == changed.end())
                check_substituted(without_erasure(values), by, findings, fresh, entry, true);
            else if (found->second != nullptr)
                check_substituted(*found->second, by, findings, fresh, entry);
        });
        for (const auto* back : brought_back)
            if (back->which == kind.which) check_substituted(*back, by, findings, fresh, next);
        by.finish(kind.which, [&](std::size_t, std::string_view column, std::string what, std::string right) {
            findings.push_back({0, std::string{column}, std::move(what), std::move(right)});
        });
    }
    return findings;
}

rows_in_force all_rows(const ledger_file& file, entry_no head) {
    return [&file, head](kind which, const std::function<void(entry_no, const row&)>& each) {
        file.for_each(which, head, [&](const stored_row& stored) { each(stored.entry, stored.values); });
    };
}

std::vector<finding> broken_rules(const ledger_file& of) {
    const auto head = of.head().seq;
    return replay(all_rows(of, head), head + 1, {}, {});
}

} // namespace tarewell::intake
