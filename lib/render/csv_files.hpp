#pragma once
#include "render/layout.hpp"
#include "render/page.hpp"

#include <map>
#include <set>
#include <string>

namespace tarewell::render {

/// CSV files by name, "bales.csv": RFC 4180, a header each, UTF-8, lines end in CR LF. A text that a spreadsheet would
/// take for a formula begins with an apostrophe.
using csv_files = std::map<std::string, std::string>;

/// One file for each sheet with a table, its header as the sheet shows it, and figures.csv.
csv_files csv_of(const layout& of, const page_input& input);

/// One file for each list that a page uses, by its outermost names, the header in names for machines; and figures.csv.
/// Tables have exact values; other lists have the page's texts. A list inside a list has the outer row's first column
/// before its own.
csv_files csv_of(const std::set<std::string>& used, const page_input& input);

/// Writes them into a new folder, all or none. Throws records::input_error when it is there, records::io_error.
void write_csv_folder(const std::string& folder, const csv_files& files);

} // namespace tarewell::render
