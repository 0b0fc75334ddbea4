#pragma once
#include "intake/workbook.hpp"
#include "intake/xml_events.hpp"

#include <deque>

namespace tarewell::intake {

/// A sheet's rows as they are unpacked. The first row given is the header, and later rows have its
/// width. Values are as the
/// sheet shows them: dates as 2026-05-14, numbers with the digits that people see. Merged cells, errors, formulas
/// without a value and percents are faults.
class sheet_rows final : public row_reader, private xml_listener {
  public:
    sheet_rows(std::unique_ptr<zip_parts::stream> part, const std::string& name, const workbook::tables& tables,
               std::size_t header_row);

    bool next(csv_record& record, std::optional<csv_fault>& fault) override;
    [[nodiscard]] std::size_t position() const override { return done_; }
    [[nodiscard]] std::size_t whole() const override { return part_->whole(); }
    [[nodiscard]] std::string cell(std::size_t line, std::size_t field) const override;
    [[nodiscard]] std::vector<std::string> notes() const override;

  private:
    struct sheet_row {
        std::size_t line = 0;
        std::vector<std::string> cells;
        std::optional<csv_fault> fault;
        bool blank = true;
    };
    /// Where something was met: the first places, and how many.
    struct met {
        std::string first;
        std::size_t count = 0;
        void at(const std::string& place);
    };

    void begins(std::string_view element, const xml_attributes& with) override;
    void ends(std::string_view element) override;
    void text(std::string_view some) override;

    void begin_row(const xml_attributes& with);
    void begin_cell(const xml_attributes& with);
    void end_cell();
    void end_row();
    void keep(std::string value);
    void keep_number();
    void keep_string();
    void complain(std::string what, std::string right);
    void merged(std::string_view range);
    void read_more();

    std::unique_ptr<zip_parts::stream> part_;
    const workbook::tables& tables_;
    xml_events xml_;
    std::size_t header_row_;
    std::size_t done_ = 0;
    bool at_end_ = false;
    std::deque<sheet_row> ready_;
    sheet_row current_;                ///< given out last
    std::size_t last_line_ = 0;        ///< read so far
    std::optional<std::size_t> width_; ///< the header's

    sheet_row row_;
    std::size_t column_ = 0; ///< of the cell that is read
    std::string type_, value_;
    std::size_t style_ = 0;
    bool formula_ = false, has_value_ = false, capturing_ = false, row_hidden_ = false;
    int phonetic_ = 0;

    met formulas_, hidden_rows_, hidden_columns_, times_;
    std::size_t merges_ = 0;
};

} // namespace tarewell::intake
