#include "records/coded_rows.hpp"

#include "quantity/large_room.hpp"
#include "records/errors.hpp"

#include <fmt/format.h>

namespace tarewell::records {

numbered_ids::numbered_ids(texts_of_kinds texts) : texts_{std::move(texts)} {
    for (std::size_t i = 0; i < kind_count; ++i) {
        quantity::make_large_room(places_[i], texts_[i]->size());
        places_[i].assign(texts_[i]->size(), no_place);
    }
}

std::size_t numbered_ids::place_of(kind which, std::string_view id) const {
    const auto number = texts(which).find(id);
    return number == 0 ? nowhere : place_of(which, number);
}

void numbered_ids::learn(kind which, std::uint32_t number, std::size_t place) {
    auto& known = places_[static_cast<std::size_t>(which)][number];
    if (known == no_place) known = static_cast<std::uint32_t>(place);
}

bool numbered_ids::learn(kind which, std::string_view id, std::size_t place) {
    const auto number = texts(which).find(id);
    if (number != 0) learn(which, number, place);
    return number != 0;
}

void refuse_undefined(const row& values, std::size_t column, entry_no entry) {
    throw ledger_error(
        fmt::format("entry {} names {}, which nothing defines; run: tarewell ledger check", entry, values[column]));
}

row row_of(const kind_info& kind, const coded_rows& rows, std::size_t index, const coded_columns& columns) {
    row made;
    made.which = kind.which;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (rows.cells[i][index] != 0 && columns[i].texts != nullptr)
            made.cells[i] = columns[i].text(rows.cells[i][index]);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (rows.cells[i][index] != 0 && columns[i].texts == nullptr)
            made.cells[i] = columns[i].ids->texts(kind.columns[i].names_by(made))[rows.cells[i][index]];
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        made.worked_out[i] = rows.worked_out[i][index];
    return made;
}

} // namespace tarewell::records
