#pragma once
#include "intake/row_reader.hpp"
#include "records/kinds.hpp"

#include <memory>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::intake {

class workbook;

/// A file of rows, CSV or a workbook, in memory.
class table_file {
  public:
    /// Throws io_error when it cannot be read.
    explicit table_file(std::string path);
    ~table_file();
    table_file(table_file&&) noexcept;
    table_file& operator=(table_file&&) noexcept;

    [[nodiscard]] const std::string& path() const { return path_; }
    [[nodiscard]] std::string name() const; ///< without its folder
    [[nodiscard]] std::string sha256() const;
    [[nodiscard]] const std::string& bytes() const { return *bytes_; }
    [[nodiscard]] bool is_workbook() const;
    /// Throws unreadable.
    [[nodiscard]] const workbook& book();
    /// The path, and of a workbook the sheet: "basin.xlsx!tickets".
    [[nodiscard]] std::string shown(const std::string& sheet) const;
    /// The rows of a CSV file, or of a workbook's sheet from its header's row on. Throws unreadable.
    [[nodiscard]] std::unique_ptr<row_reader> rows(const std::string& sheet, std::size_t header_row = 1);

  private:
    std::string path_;
    std::unique_ptr<std::string> bytes_; ///< stays where it is when the file is moved
    std::unique_ptr<workbook> book_;
};

/// The kind whose file has such a header; none where no kind's has, or several.
std::optional<records::kind> kind_of_header(const std::vector<std::string_view>& names);

/// What of a file is taken in as what.
struct chosen_table {
    records::kind which{};
    std::string sheet; ///< empty for CSV
};

/// The table of a kind: of a workbook the sheet named, or the one that is called or headed like the kind's file, or
/// the only one. Throws unreadable.
chosen_table table_of_kind(table_file& file, records::kind which, const std::string& sheet);

/// Every table of a file by its name or header, in the order of taking in. `passed_over` gets the sheets that are none
/// of ours. Throws unreadable where there is none.
std::vector<chosen_table> tables_of(table_file& file, const std::string& sheet, std::vector<std::string>& passed_over);

} // namespace tarewell::intake
