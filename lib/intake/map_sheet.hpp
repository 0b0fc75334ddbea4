#pragma once
#include "intake/map_values.hpp"
#include "intake/row_reader.hpp"
#include "intake/table_file.hpp"
#include "records/errors.hpp"

namespace tarewell::intake {

/// Somebody's sheet as it stands: its headings, and the rows below them.
struct map_sheet {
    struct row {
        std::size_t line = 0;
        std::vector<std::string> cells; ///< one a heading
    };
    std::string shown; ///< path, and sheet of a workbook
    std::vector<std::string> headings;
    std::vector<row> rows;
    std::vector<std::size_t> left_out; ///< lines that the map says to skip: blank rows, totals
    std::vector<records::finding> findings;
    std::vector<std::string> notes;

    /// By its text, whatever its case and the number of spaces.
    [[nodiscard]] std::optional<std::size_t> heading(std::string_view text) const;
};

/// Reads a file by what the map says of the whole sheet: encoding, separator, the row of the headings, blank rows and
/// totals. What is wrong with rows stands in `findings`. Throws io_error, and records::refused for a file that cannot
/// be read at all.
map_sheet read_map_sheet(table_file& file, const sheet_rules& rules);

/// A text file's bytes as UTF-8. Throws unreadable for bytes that the encoding has not.
std::string as_utf8(std::string_view bytes, std::string_view encoding);

/// "ruth  Ames " and "Ruth Ames" are one: folded, with single spaces and none at the ends.
std::string same_words(std::string_view text);

} // namespace tarewell::intake
