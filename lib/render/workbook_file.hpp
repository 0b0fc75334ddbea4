#pragma once
#include "quantity/day.hpp"

#include <cstdint>
#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::render {

/// How a cell looks. Numbers keep their full value whatever they look like.
enum class look { plain, heading, heading_indented, heading_right, title, wrapped, date, count, weight, money, ratio, tons, total_weight,
                  total_money, total_count, label, unit };

struct workbook_properties {
    std::string title, subject, comments;
    std::string created; ///< UTC, "2026-07-10T08:00:00Z": fixed by the as-of entry, so that bytes repeat
    std::vector<std::pair<std::string, std::string>> custom;
};

struct sheet_setup {
    std::string name;
    std::vector<double> widths;    ///< of columns, in characters
    std::uint32_t header_row = 0;  ///< rows up to and with this one stay in sight and repeat in print
    bool filter = false;           ///< filter buttons on the header
    std::uint32_t last_row = 0;    ///< for the filter
};

/// One workbook being written. Nothing stands at the target before finish() has read the whole file back and
/// found every sheet and cell in it; then it is renamed into place. Throws ledger::io_error when the disk is
/// full or a file cannot be written, and leaves no file behind.
class workbook_file {
  public:
    workbook_file(const std::string& target, const workbook_properties& properties);
    ~workbook_file();
    workbook_file(const workbook_file&) = delete;
    workbook_file& operator=(const workbook_file&) = delete;

    /// Rows of a sheet are written in order, from the first; a sheet is done when the next begins.
    void begin_sheet(const sheet_setup& setup);
    void text(std::uint32_t row, std::uint16_t column, const std::string& value, look how = look::plain);
    void number(std::uint32_t row, std::uint16_t column, double value, look how);
    void date(std::uint32_t row, std::uint16_t column, quantity::day value);
    /// A live formula with the value that it has now; an empty value is an empty text.
    void formula(std::uint32_t row, std::uint16_t column, const std::string& formula, std::optional<double> value,
                 look how);
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
