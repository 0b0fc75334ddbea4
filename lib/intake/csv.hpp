#pragma once
#include "quantity/clean_text.hpp"
#include <cstddef>
#include <deque>
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::intake {

/// What is wrong with the text of a record, before any value is looked at.
struct csv_fault {
    std::size_t line = 0;  ///< where the record begins, from 1
    std::size_t field = 0; ///< from 0
    std::string what, right;
};

/// One record: views into the file's text, or into `unquoted` where quotes were doubled.
struct csv_record {
    std::size_t line = 0;
    std::vector<std::string_view> fields;
};

/// A strict reader of RFC 4180: a comma between fields, LF or CRLF after records, a field in double
/// quotes whole or not at all, quotes inside doubled. Spaces are data. A byte order mark is passed
/// over. What breaks the form is a fault, never a guess.
class csv_reader {
  public:
    /// The text must outlive the reader and its records. `separator` stands between fields in other people's files.
    explicit csv_reader(std::string_view text, char separator = ',');

    /// Reads the next record into `record`; false at the end. When the record is broken `fault` is
    /// set, the record holds what was read, and reading goes on with the next line.
    bool next(csv_record& record, std::optional<csv_fault>& fault);
    /// Bytes read so far, for a progress display.
    [[nodiscard]] std::size_t position() const { return at_; }

  private:
    bool read_field(csv_record& record, std::optional<csv_fault>& fault);
    bool read_quoted(csv_record& record, std::optional<csv_fault>& fault);
    bool read_plain(csv_record& record, std::optional<csv_fault>& fault);
    bool end_of_record();
    void skip_line();
    /// Of the field that is being read.
    void complain(const csv_record& record, std::optional<csv_fault>& fault, std::string what, std::string right);
    /// Of the field that was read last.
    void complain_of_last(const csv_record& record, std::optional<csv_fault>& fault, std::string what,
                          std::string right);

    std::string_view text_;
    char separator_;
    std::size_t at_ = 0;
    std::size_t line_ = 1;
    std::deque<std::string> unquoted_;
};

/// A fault of the whole file: empty, a spreadsheet, UTF-16, line ends of CR alone.
std::optional<csv_fault> fault_of_file(std::string_view text);

using quantity::first_bad_byte;

/// A field for a CSV file that we write: quoted where RFC 4180 needs it, and with a leading
/// apostrophe where a spreadsheet would take `=`, `+`, `-` or `@` for the start of a formula.
std::string csv_field(std::string_view text);
/// The same for a number, which is never mistaken for a formula.
std::string csv_number(std::string_view text);

} // namespace tarewell::intake
