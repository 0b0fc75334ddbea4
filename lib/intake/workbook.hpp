#pragma once
#include "intake/number_format.hpp"
#include "intake/row_reader.hpp"
#include "intake/zip_parts.hpp"

namespace tarewell::intake {

/// A sheet of a workbook, as the workbook lists it.
struct workbook_sheet {
    std::string name, part;
    bool hidden = false;
};

/// An .xlsx or .xlsm workbook (ECMA-376) in memory. What it computes, links to or would run is left alone: values are
/// taken as it was saved with.
class workbook {
  public:
    /// The bytes must outlive it and its readers. Throws unreadable for what is no such workbook, and says what it is.
    explicit workbook(std::string_view bytes);
    ~workbook();

    [[nodiscard]] const std::vector<workbook_sheet>& sheets() const { return sheets_; }
    /// Its rows, one after the other, from that of the header on; the workbook must outlive the reader.
    [[nodiscard]] std::unique_ptr<row_reader> rows(const workbook_sheet& of, std::size_t header_row = 1) const;
    /// Macros and links that are left alone.
    [[nodiscard]] const std::vector<std::string>& notes() const { return notes_; }

    /// The part that lists the sheets, and all parts, packed.
    [[nodiscard]] const std::string& part() const { return part_; }
    [[nodiscard]] const zip_parts& parts() const { return *parts_; }

    /// What cells refer to.
    struct tables {
        std::vector<std::string> strings;
        std::vector<number_format> formats; ///< by a cell's style
        bool epoch_1904 = false;
    };

  private:
    void find_sheets();
    void read_styles(const std::string& part);
    void read_strings(const std::string& part);

    std::unique_ptr<zip_parts> parts_;
    std::string part_;
    std::vector<workbook_sheet> sheets_;
    std::vector<std::string> notes_;
    tables tables_;
};

/// True for a file that is read as a workbook: by its name, .xlsx or .xlsm.
bool is_workbook_name(std::string_view path);

/// "AB" for 27: a column's letters, from 0.
std::string column_letters(std::size_t column);

} // namespace tarewell::intake
