#pragma once
#include <iosfwd>
#include <string>
#include <vector>

namespace tarewell::cli {

/// Columns set apart by two spaces; numbers to the right, words to the left. Width by characters.
class text_table {
  public:
    explicit text_table(std::vector<std::string> headings);
    void add(std::vector<std::string> cells);
    void print(std::ostream& out) const;

  private:
    std::vector<std::vector<std::string>> rows_;
};

} // namespace tarewell::cli
