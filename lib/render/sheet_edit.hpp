#pragma once
#include <compare>
#include <cstddef>
#include <map>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace tarewell::render {

/// A cell of a sheet, counted from 1 as its name does: C5 is row 5, column 3.
struct cell_place {
    std::size_t row = 0, column = 0;
    friend constexpr auto operator<=>(const cell_place&, const cell_place&) = default;
};

/// "C5"
std::string text_of(cell_place of);
/// Reads `C5` and `$C$5`; none outside of what a sheet holds.
std::optional<cell_place> read_cell_place(std::string_view text);

/// What goes into a cell: nothing (it is emptied), a number as it is written, or a text, which is never a formula.
struct written_number {
    std::string digits;
};
using cell_content = std::variant<std::monostate, written_number, std::string>;

/// What a sheet's XML says of its cells, as far as filling it needs that.
struct sheet_shape {
    struct area {
        cell_place from, to;
        [[nodiscard]] bool holds(cell_place of) const {
            return from.row <= of.row && of.row <= to.row && from.column <= of.column && of.column <= to.column;
        }
    };
    std::vector<area> merged;
    std::map<cell_place, bool> formulas; ///< cells with one
    std::vector<area> arrays;            ///< what one formula fills
    /// The cell that shows what is put into one: of merged cells the first.
    [[nodiscard]] cell_place shown(cell_place of) const;
    [[nodiscard]] bool is_computed(cell_place of) const;
};
/// Throws intake::unreadable. `part` names the sheet's part in messages.
sheet_shape shape_of(std::string_view xml, const std::string& part);

/// A sheet's XML with some cells' contents written anew, each in its own look, and everything else byte for byte, but
/// what its formulas came to before: programs that take a file's word would show a stale number. New rows and cells
/// stand in their order. Throws intake::unreadable for a sheet whose rows or cells do not.
std::string with_cells(std::string_view xml, const std::map<cell_place, cell_content>& cells, const std::string& part);

/// What stands in cells, as a reader of the XML finds it: numbers and texts as written. For holding a file against what
/// was put there.
std::map<cell_place, std::string> contents_of(std::string_view xml, const std::string& part);

} // namespace tarewell::render
