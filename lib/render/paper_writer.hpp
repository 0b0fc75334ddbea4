#pragma once
#include "desk/paper.hpp"
#include "render/label_stock.hpp"

namespace tarewell::render {

/// How a sheet is printed.
struct paper_look {
    std::string file;           ///< a page to print, or rows as data where it ends in .csv
    std::string templates = {}; ///< the user's folder, whose paper_NAME.mustache goes first; or empty
    paper_size on;
    label_stock stock = {};       ///< for labels and tags
    std::size_t first_label = 1;  ///< of the first sheet, from 1
    std::string program, contact; ///< whose sheet it is, and whom to call; either may be empty
    desk::day printed_on;
    records::entry_no as_of = 0;
};

struct paper_written {
    std::size_t sheets = 0;     ///< of labels
    std::size_t next_label = 1; ///< the first one free after them, from 1
};

/// Writes it whole. Labels and tags are put on their stock, all else flows over as many pages as it needs. Throws
/// records::input_error for a first label that the sheet has not and for a template that is none; records::io_error.
paper_written write_paper(const desk::paper& what, const paper_look& how);

/// A page of a label's stock: each label's corner and size, how large its name is written, its QR code.
desk::value labels_on_sheets(const desk::paper& what, const paper_look& how);

/// The rows as CSV, in the order of the page.
std::string paper_csv(const desk::paper& what);

} // namespace tarewell::render
