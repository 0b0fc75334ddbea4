#pragma once
#include "render/layout.hpp"
#include "render/report_tables.hpp"
#include "render/workbook_file.hpp"

#include <map>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::render {

/// What one cell has besides its value.
struct special_cell {
    std::string formula; ///< with '=' before it; # stands for the cell's own row number. Empty: the value alone
    std::string name;    ///< of the workbook, for the cell
    std::optional<look> how;
};

struct shown_column {
    std::size_t index = 0; ///< in the source table
    std::string heading;
    bool total = false;
    std::string range_name;   ///< of the workbook, for all rows of the column; empty: none
    std::string word_to_mark; ///< cells that say this word stand out
};

struct shown_line {
    std::string label, text;
    std::optional<quantity::day> day; ///< written as a date
    std::string name;                 ///< of the workbook, for the cell
};

struct shown_series {
    std::string label;
    std::size_t column = 0; ///< of the sheet's shown columns
};

/// A chart whose ranges lie on one sheet.
struct shown_chart {
    chart_kind kind = chart_kind::column;
    std::string title, alt;
    std::size_t sheet = 0; ///< number of the sheet drawn
    std::size_t categories = 0;
    std::vector<shown_series> series;
    std::size_t first_row = 0, row_count = 0; ///< of the sheet's shown rows
    std::string unit;                         ///< of the values, on their axis
};

/// A second total, of the rows whose date in one of the columns is in the quarter.
struct dated_total {
    std::string label;
    std::size_t column = 0; ///< of the sheet's shown columns, with the dates
    quantity::span_of_days days;
    std::vector<std::size_t> rows; ///< of the source
};

/// A sheet of a table that is split over several.
struct sheet_part {
    std::string name;
    std::uint32_t header_row = 0;
    std::size_t rows = 0;
};

/// One sheet filled in: what a workbook, a CSV file and JSON show alike.
struct sheet_data {
    std::string name;
    sheet_kind kind = sheet_kind::text;
    std::string title;
    std::vector<shown_line> lines;
    shared_table source; ///< null: lines and charts alone
    std::vector<shown_column> columns;
    std::vector<std::size_t> rows;                                       ///< of the source, in the order shown
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special; ///< by shown row and column
    std::string total_label;                                             ///< empty: no total row
    std::map<std::size_t, special_cell> special_totals;                  ///< by shown column
    std::optional<dated_total> quarter_total;
    std::vector<sheet_part> together;       ///< of the last of a split table's sheets: all of them
    std::vector<std::size_t> rows_together; ///< beside them: their rows, of the source
    std::vector<shown_chart> charts;

    [[nodiscard]] const figures::cell& at(std::size_t row, std::size_t column) const {
        return source->rows[rows[row]][columns[column].index];
    }
    [[nodiscard]] const std::string& name_of(std::size_t column) const {
        return source->columns[columns[column].index].name;
    }
    [[nodiscard]] figures::content content_of(std::size_t column) const {
        return source->columns[columns[column].index].content;
    }
    [[nodiscard]] figures::cell total_of(std::size_t column) const {
        return source->total(columns[column].index, rows);
    }
    [[nodiscard]] const special_cell* special_at(std::size_t row, std::size_t column) const {
        const auto found = special.find({row, column});
        return found == special.end() ? nullptr : &found->second;
    }
    /// The workbook's row of the headings, from 0: below the title and the lines, with one row between.
    [[nodiscard]] std::uint32_t header_row() const {
        const auto above = (title.empty() ? 0 : 1) + lines.size();
        return static_cast<std::uint32_t>(above == 0 ? 0 : above + 1);
    }
};

/// A cell's exact text: dates as 2026-05-14, weights with three decimals, money with two.
std::string exact_text(const figures::cell& of);

/// A value as the number that a workbook keeps; none for texts and what is undefined.
std::optional<double> number_in(const figures::cell& of);

} // namespace tarewell::render
