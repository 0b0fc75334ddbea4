#include "intake/standing.hpp"

#include "quantity/decimal.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::intake {

using namespace records; // NOLINT
using ledger::ledger_file;
using ledger::stored_row;

bool same_value(const column& column, std::string_view a, std::string_view b) {
    if (a == b) return true;
    if (a.empty() || b.empty()) return false;
    switch (column.type) {
    case column_type::positive:
    case column_type::nonnegative:
    case column_type::amount:
    case column_type::credit:
    case column_type::count:
    case column_type::month: {
        const auto first = quantity::read_decimal(a, true), second = quantity::read_decimal(b, true);
        return first.fault == quantity::decimal_fault::none && second.fault == quantity::decimal_fault::none &&
               first.value == second.value;
    }
    default:
        return false;
    }
}

namespace {

bool equals_stored(const ledger_file& file, const row& values, entry_no entry, bool& erased) {
    bool equal = false;
    file.with_entry(values.which, entry, [&](const stored_row& stored) {
        const auto& columns = info(values.which).columns;
        equal = true;
        erased = is_erased(stored.values);
        for (std::size_t i = 0; i < columns.size(); ++i)
            if (!(erased && columns[i].personal)) equal = equal && same_value(columns[i], values[i], stored.values[i]);
    });
    return equal;
}

} // namespace

standing stand(const ledger_file& file, const row& values, const key_state& known,
               const std::function<std::vector<entry_no>()>& earlier, const complaint& complain, std::string& note) {
    const auto& kind = info(values.which);
    const auto name = fmt::format("{} {}", kind.name, key_for_people(values));
    const auto key_column = kind.columns[kind.key[kind.key_columns - 1]].name;
    if (known.in_this_file) {
        complain(key_column, fmt::format("{} stands in line {} already", name, known.line),
                 "each record stands once; take one of the rows out");
        return standing::refused;
    }
    bool erased = false;
    if (!known.voided && equals_stored(file, values, known.entry, erased)) {
        if (erased) note = fmt::format("{}: the contact details were erased on request and stay so", name);
        return standing::known;
    }
    const auto before = earlier();
    if (std::any_of(before.begin(), before.end(),
                    [&](entry_no entry) { return equals_stored(file, values, entry, erased); })) {
        note = known.voided ? fmt::format("{} was voided by entry {} and stays so", name, known.entry)
                            : fmt::format("{} was corrected by entry {}, which stands", name, known.entry);
        return standing::known;
    }
    if (known.voided)
        complain(key_column, fmt::format("{} was voided by entry {}", name, known.entry),
                 fmt::format("bring it back with: tarewell correct {} {}", kind.name, key_for_people(values)));
    else
        complain(key_column, fmt::format("{} is in the ledger with other values (entry {})", name, known.entry),
                 fmt::format("to change it use: tarewell correct {} {}", kind.name, key_for_people(values)));
    return standing::refused;
}

key_line line_of_key(const ledger_file& file, const row& values, entry_no head) {
    const auto& kind = info(values.which);
    const auto key = key_of(values);
    std::vector<entry_no> revisions;
    file.for_each_with(
        kind.which, kind.columns[kind.key[0]].name, values[kind.key[0]], head,
        [&](const stored_row& stored) {
            if (key_of(stored.values) == key) revisions.push_back(stored.entry);
        },
        ledger_file::which_rows::ever);
    if (revisions.empty()) return {};
    const auto last = revisions.back();
    const auto replaced = file.replaced_by(last);
    key_line line{key_state{replaced ? replaced->by : last, replaced.has_value()}, std::move(revisions)};
    if (!replaced) line.earlier.pop_back();
    return line;
}

} // namespace tarewell::intake
