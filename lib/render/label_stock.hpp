#pragma once
#include <cstddef>
#include <cstdint>
#include <string>
#include <string_view>

namespace tarewell::render {

/// Lengths on paper in micrometres: an inch is 25,400 of them, exactly.
using micrometres = std::int64_t;

/// "101.6mm", as CSS takes it.
std::string in_millimetres(micrometres of);

struct paper_size {
    std::string_view name;    ///< "letter", "a4"
    std::string_view in_css;  ///< "letter", "A4"
    std::string_view heading; ///< "Letter", "A4"
    micrometres wide = 0, high = 0;
};
/// Letter is 8.5 x 11 in, A4 210 x 297 mm (ISO 216; from memory). Throws records::input_error for another name.
const paper_size& paper_called(std::string_view name);

/// A sheet of labels: how large one is, how many there are, and where the first one begins.
struct label_stock {
    std::string in_words; ///< "4x2in, 2 columns, 5 rows"
    micrometres wide = 0, high = 0;
    std::size_t columns = 0, rows = 0;
    micrometres left = 0, top = 0, gap_across = 0, gap_down = 0;

    [[nodiscard]] std::size_t on_a_sheet() const { return columns * rows; }
    struct corner {
        micrometres left, top;
    };
    /// The upper left corner of a label by its place on the sheet, from 0, row after row.
    [[nodiscard]] corner corner_of(std::size_t place) const;
};

/// Reads "4x2in", "4x2in 2x5 margins 0.156x0.5 gaps 0.188x0" or the same in mm: a label's width and height, then
/// columns x rows, left and upper margin, gaps across and down, each of which may be left out. Without gaps: those
/// usual for labels of this width; without columns and rows: as many as fit; without margins: in the middle of the
/// paper. Empty text: 4x2in on Letter, 99.1x67.7mm on A4. Throws records::input_error that says what fits.
label_stock read_label_stock(std::string_view text, const paper_size& on);

} // namespace tarewell::render
