#include "records/kinds.hpp"

#include "records/acceptance.hpp"
#include "records/season.hpp"

#include <algorithm>
#include <stdexcept>

namespace tarewell::records {
namespace {

/// In the order of the enumeration; a test holds the two together.
constexpr const kind_info* kinds[kind_count] = {
    &award_kind,      &site_kind,   &grower_kind,       &scale_kind,       &cover_kind,    &bundle_kind,
    &receipt_kind,    &haul_kind,   &bale_kind,         &reject_kind,      &shipment_kind, &ticket_kind,
    &acceptance_kind, &budget_kind, &cost_kind,         &inkind_kind,      &setting_kind,  &amendment_kind,
    &rebudget_kind,   &rate_kind,   &obligation_kind,   &liquidation_kind, &income_kind,   &request_kind,
    &payment_record,  &note_kind,   &confirmation_kind, &merge_kind,       &closing_kind,  &document_kind,
    &erasure_kind,
};

const std::array<kind_info, kind_count>& table() {
    static const auto made = [] {
        std::array<kind_info, kind_count> infos;
        std::transform(std::begin(kinds), std::end(kinds), infos.begin(), [](const auto* each) { return *each; });
        return infos;
    }();
    return made;
}

std::string joined_key(const row& record, char between) {
    const auto& kind = info(record.which);
    std::string key{record[kind.key[0]]};
    if (kind.key_columns == 2) {
        key += between;
        key += record[kind.key[1]];
    }
    return key;
}

std::int64_t worked_out_of(const row& values, const worked_out_number& number, weight_unit award_unit) {
    const auto at = [&](std::size_t part) { return quantity::decimal_of(values[number.from[part]]); };
    switch (number.how) {
    case whole_number::thousandths:
        return quantity::weight_from(at(0), *quantity::read_weight_unit(values[number.from[1]]), award_unit).count();
    case whole_number::cents:
        return quantity::money_from(at(0)).count();
    case whole_number::cents_or_product:
        return (values[number.from[0]].empty() ? quantity::money_from_rate(at(1), at(2)) : quantity::money_from(at(0)))
            .count();
    }
    return 0;
}

} // namespace

bool same_but_for_case(std::string_view a, std::string_view b) {
    return std::equal(a.begin(), a.end(), b.begin(), b.end(), [](char x, char y) {
        const auto lower = [](char c) { return c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c; };
        return lower(x) == lower(y);
    });
}

std::optional<std::size_t> kind_info::find(std::string_view column_name) const {
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].name == column_name) return i;
    return std::nullopt;
}

std::optional<std::size_t> kind_info::find_in_header(std::string_view column_name) const {
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (same_but_for_case(columns[i].name, column_name)) return i;
    return std::nullopt;
}

std::size_t kind_info::index_of(std::string_view column_name) const {
    const auto index = find(column_name);
    if (!index) throw std::logic_error("no such column: " + std::string{column_name});
    return *index;
}

bool kind_info::has_personal_columns() const {
    return std::any_of(columns.begin(), columns.end(), [](const column& each) { return each.personal; });
}

bool kind_info::has_shared_columns() const {
    return std::any_of(columns.begin(), columns.end(), [](const column& each) { return each.shared; });
}

bool kind_info::is_key(std::size_t column_index) const {
    return std::find(key.begin(), key.begin() + static_cast<std::ptrdiff_t>(key_columns), column_index) !=
           key.begin() + static_cast<std::ptrdiff_t>(key_columns);
}

std::string_view kind_info::called() const { return has_shared_columns() && key[0] == 0 ? columns[0].name : name; }

const kind_info& info(kind which) { return table()[static_cast<std::size_t>(which)]; }

std::span<const kind_info> all_kinds() { return table(); }

std::span<const kind_info> recorded_kinds() {
    return all_kinds().first(static_cast<std::size_t>(
        std::count_if(table().begin(), table().end(), [](const kind_info& each) { return !each.internal; })));
}

const kind_info* find_kind(std::string_view name) {
    for (const auto& candidate : table())
        if (candidate.name == name || candidate.file == name) return &candidate;
    return nullptr;
}

std::optional<kind> kind_named(const column& by, const row& values) {
    if (values[by.name].empty()) return std::nullopt;
    return by.names_by != nullptr ? std::optional{by.names_by(values)} : by.names;
}

void tell_words(row& values) {
    const auto columns = info(values.which).columns;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        auto& cell = values.cells[i];
        if (columns[i].type != column_type::word || cell.empty()) continue;
        for (const auto word : columns[i].words) {
            const bool plural =
                (word == "lb" || word == "kg") && cell.size() == 3 && (cell[2] == 's' || cell[2] == 'S');
            if (same_but_for_case(plural ? cell.substr(0, 2) : cell, word)) cell = word;
        }
    }
}

std::string key_of(const row& record) { return joined_key(record, '\x1f'); }

std::string key_for_people(const row& record) { return joined_key(record, ' '); }

void work_out(row& values, const season& under) {
    const auto unit = under.the_award ? under.the_award->unit : weight_unit::lb;
    const auto numbers = info(values.which).worked_out;
    for (std::size_t i = 0; i < numbers.size(); ++i) {
        const bool given = !values[numbers[i].from[0]].empty() || numbers[i].how == whole_number::cents_or_product;
        values.worked_out[i] = given ? std::optional{worked_out_of(values, numbers[i], unit)} : std::nullopt;
    }
}

bool is_erased(const row& stored) {
    const auto columns = info(stored.which).columns;
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].personal && columns[i].required) return stored[i].empty();
    return false;
}

} // namespace tarewell::records
