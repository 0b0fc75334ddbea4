#pragma once
#include <stdexcept>
#include <string>
#include <vector>

namespace tarewell::records {

/// The person can mend it: the message says where, what is wrong and what would be right.
class input_error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// The file can't be trusted, or is not one of ours.
class ledger_error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// Another process held the ledger past the waiting time.
class busy_error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// A file could not be read or written (full disk, missing folder, no permission).
class io_error : public std::runtime_error {
  public:
    using std::runtime_error::runtime_error;
};

/// One thing wrong in one place of the input.
struct finding {
    std::size_t line = 0;
    std::string column;
    std::string what;
    std::string right;
    std::string cell = {}; ///< "C5", of a workbook's sheet, in place of the line
    /// "FILE:LINE:COLUMN: what; what would be right"
    [[nodiscard]] std::string text(const std::string& file) const;
};

/// Refused as a whole: every finding, in the order of the input.
class refused : public input_error {
  public:
    refused(std::string file, std::vector<finding> findings);
    [[nodiscard]] const std::vector<std::string>& lines() const { return lines_; }
    /// Several files' findings as one refusal.
    explicit refused(std::vector<std::string> lines);

  private:
    std::vector<std::string> lines_;
};

} // namespace tarewell::records
