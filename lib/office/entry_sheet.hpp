#pragma once
#include "office/views.hpp"

#include "desk/next_record.hpp"

#include <optional>

namespace tarewell::office {

/// A printed sheet that is typed in, row by row, in its order. It is what the ledger held at one entry, so its rows
/// stand as they were printed while they are typed in, and whoever else records one of them has it marked as done.
struct entry_sheet {
    const records::kind_info* kind = nullptr;
    std::string site; ///< an id, or "all"
    quantity::day on;
    records::entry_no as_of = 0;
    std::size_t row = 0; ///< the one that is at hand, from 0; past the last when nothing is left
    std::vector<desk::typed_values> rows = {};

    [[nodiscard]] bool is_at_a_row() const { return row < rows.size(); }
    /// "/enter?kind=receipt&sheet=S1&..." of a row.
    [[nodiscard]] std::string link(std::size_t to) const;
};

/// The sheet that a call's fields name; none where they name none. What they leave out is of this moment: the day, the
/// entry, the first row that is not done. Throws records::input_error for a sheet without rows and for no site.
std::optional<entry_sheet> sheet_asked(state& of, const form& named, const records::kind_info& kind);

/// The first row from a place that nobody recorded since the sheet was made, or before that place where none is left
/// after it; the number of rows where all are done.
std::size_t next_not_done(state& of, const entry_sheet& sheet, std::size_t from);
/// The row after the one that a record's values are of; the sheet's own row where they are of none.
std::size_t row_after(const entry_sheet& sheet, const desk::typed_values& recorded);

/// What a page shows of it: its rows, what is done of them, and the way back and on.
value sheet_for_page(state& of, const entry_sheet& sheet);
/// The sheets there are, and the sites, to choose from.
value sheets_to_choose_from(state& of);

} // namespace tarewell::office
