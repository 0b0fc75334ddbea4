#include "records/coded_rows.hpp"

#include "quantity/large_room.hpp"
#include "records/errors.hpp"
#include "records/season.hpp"

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

namespace {
thread_local adding_by_number* adding_now = nullptr;
}

adding_by_number::adding_by_number(numbered_ids::texts_of_kinds texts)
    : ids{std::make_shared<numbered_ids>(std::move(texts))} {
    adding_now = this;
}
adding_by_number::~adding_by_number() { adding_now = nullptr; }
adding_by_number* adding_by_number::now() { return adding_now; }

std::size_t own_place(const season& of, kind which, std::string_view id) {
    const auto* adding = adding_by_number::now();
    return adding == nullptr || adding->own == 0 ? of.place_of(which, id) : adding->ids->place_of(which, adding->own);
}

void make_room(season& in, kind which, std::size_t rows) {
    const auto more = [&](auto& of) { quantity::make_large_room(of, of.size() + rows); };
    switch (which) {
    case kind::grower:
        return more(in.growers);
    case kind::cover:
        return more(in.covers), more(in.registrations);
    case kind::bundle:
        return more(in.bundles);
    case kind::receipt:
        return more(in.receipts);
    case kind::haul:
        return more(in.hauls);
    case kind::bale:
        return more(in.bale_rows);
    case kind::shipment:
        return more(in.shipment_rows);
    case kind::ticket:
        return more(in.tickets);
    case kind::cost:
        return more(in.costs);
    default:
        return;
    }
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
