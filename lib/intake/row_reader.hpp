#pragma once
#include "intake/csv.hpp"

#include <algorithm>
#include <memory>
#include <stdexcept>

namespace tarewell::intake {

/// Rows of a file, whatever its form: the header first, then the records.
class row_reader {
  public:
    row_reader() = default;
    virtual ~row_reader() = default;
    row_reader(const row_reader&) = delete;
    row_reader& operator=(const row_reader&) = delete;

    /// As csv_reader::next. The views are good until the next call. Throws unreadable where nothing more can be read.
    virtual bool next(csv_record& record, std::optional<csv_fault>& fault) = 0;
    /// How much of `whole` is read, for a progress display.
    [[nodiscard]] virtual std::size_t position() const = 0;
    [[nodiscard]] virtual std::size_t whole() const = 0;
    /// "C5": where a value stands, of a workbook's sheet; empty where lines are counted alone.
    [[nodiscard]] virtual std::string cell(std::size_t /*line*/, std::size_t /*field*/) const { return {}; }
    /// All its texts are known to be valid UTF-8 without control characters.
    [[nodiscard]] virtual bool is_clean() const { return false; }
    [[nodiscard]] virtual std::size_t rows_at_most() const { return 0; } ///< 0: not known
    /// What people should know of what was read: formulas, hidden rows.
    [[nodiscard]] virtual std::vector<std::string> notes() const { return {}; }
};

/// A file, or a part of it, of which nothing more can be read.
class unreadable : public std::runtime_error {
  public:
    unreadable(const std::string& what_is_wrong, std::string what_is_right)
        : std::runtime_error{what_is_wrong}, right{std::move(what_is_right)} {}
    std::string right;
};

/// Those of a CSV file's text, which must outlive the reader.
class csv_rows final : public row_reader {
  public:
    explicit csv_rows(std::string_view text) : text_{text}, reader_{text} {}
    bool next(csv_record& record, std::optional<csv_fault>& fault) override { return reader_.next(record, fault); }
    [[nodiscard]] std::size_t position() const override { return reader_.position(); }
    [[nodiscard]] std::size_t whole() const override { return text_.size(); }
    [[nodiscard]] bool is_clean() const override { return first_bad_byte(text_) == std::string_view::npos; }
    [[nodiscard]] std::size_t rows_at_most() const override {
        return static_cast<std::size_t>(std::count(text_.begin(), text_.end(), '\n'));
    }

  private:
    std::string_view text_;
    csv_reader reader_;
};

} // namespace tarewell::intake
