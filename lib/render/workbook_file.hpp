#pragma once
#include "quantity/day.hpp"
#include "render/layout.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::render {

/// How a cell looks. Numbers keep their full value whatever they look like.
enum class look {
    plain,
    heading,
    heading_indented,
    heading_right,
    title,
    wrapped,
    date,
    date_left,
    count,
    weight,
    money,
    ratio,
    percent,
    tons,
    difference,
    total_weight,
    total_money,
    total_count,
    label,
    total_label,
    unit
};

struct workbook_properties {
    std::string title, subject, comments;
    std::string created; ///< UTC, "2026-07-10T08:00:00Z": fixed by the as-of entry, so that bytes repeat
    std::vector<std::pair<std::string, std::string>> custom;
    /// Rows leave the memory as they are written, for workbooks of very many rows; then there are no tables.
    bool lean = false;
};

struct sheet_setup {
    std::string name;
    std::vector<double> widths; ///< of columns, in characters
    /// Rows up to and with this one stay in sight, and it repeats in print; none: nothing does.
    std::optional<std::uint32_t> header_row = 0;
    bool filter = false;        ///< filter buttons on the header
    std::uint32_t last_row = 0; ///< for the filter
    int header_lines = 2;       ///< lines of text in the header
    bool one_page = false;      ///< printed upright on one page, else across and as long as it is
    bool hidden = false;        ///< there for formulas, out of sight
};

/// A table as readers' programs know it: a header that is read out, filters, columns that are named.
struct table_column_setup {
    std::string heading;
    look heading_look = look::heading;
};
struct table_setup {
    std::string name;
    std::uint32_t first_row = 0, last_row = 0; ///< from the header to the last row, without a total
    std::vector<table_column_setup> columns;
};

struct chart_series_setup {
    std::string label, categories, values; ///< ranges as range_of gives them
    std::string column;                    ///< the name of the values' column, which says its role
};
struct chart_setup {
    chart_kind kind = chart_kind::column;
    std::string title, alt, unit, categories_name;
    std::vector<chart_series_setup> series;
    std::size_t category_count = 0;
    std::uint32_t row = 0; ///< its upper left corner
    std::uint16_t column = 0;
    bool whole = true;                ///< no fractions on the values' axis
    double most = 0;                  ///< the largest value
    double width = 660, height = 340; ///< in pixels
};

/// One workbook being written. Nothing stands at the target before finish() has read the whole file back and
/// found every sheet and cell in it; then it is renamed into place. Throws records::io_error when the disk is
/// full or a file cannot be written, and leaves no file behind.
class workbook_file {
  public:
    workbook_file(const std::string& target, const workbook_properties& properties);
    ~workbook_file();
    workbook_file(const workbook_file&) = delete;
    workbook_file& operator=(const workbook_file&) = delete;

    /// Rows of a sheet are written in order, from the first; a sheet is done when the next begins.
    void begin_sheet(const sheet_setup& setup);
    /// A row as high as lines of text, before anything is written to it.
    void lines_high(std::uint32_t row, int lines);
    void text(std::uint32_t row, std::uint16_t column, const std::string& value, look how = look::plain);
    void number(std::uint32_t row, std::uint16_t column, double value, look how);
    void date(std::uint32_t row, std::uint16_t column, quantity::day value, look how = look::date);
    /// A live formula with the value that it has now, a number or a text.
    void formula(std::uint32_t row, std::uint16_t column, const std::string& formula, double value, look how);
    void formula(std::uint32_t row, std::uint16_t column, const std::string& formula, const std::string& value,
                 look how);
    /// Cells of the begun sheet, written before, as a table. Not when lean.
    void table(const table_setup& setup);
    /// Cells of a column that say just this word stand out, in bold on a tint.
    void mark_word(std::uint32_t first_row, std::uint32_t last_row, std::uint16_t column, const std::string& word);
    void chart(const chart_setup& setup);
    /// A name for a cell or range, such as ='Bundles'!$G$2:$G$405.
    void name(const std::string& name, const std::string& reference);

    void finish();

  private:
    struct implementation;
    std::unique_ptr<implementation> inside_;
};

/// 'Sheet name'!$A$2:$A$9 from zero-based rows and column.
std::string range_of(const std::string& sheet, std::uint32_t first_row, std::uint32_t last_row, std::uint16_t column);

} // namespace tarewell::render
