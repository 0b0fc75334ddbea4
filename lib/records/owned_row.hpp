#pragma once
#include "records/kinds.hpp"

#include <deque>

namespace tarewell::records {

/// A row that owns its texts.
class owned_row {
  public:
    explicit owned_row(kind which) { row_.which = which; }
    explicit owned_row(const row& values) : row_{values} { own(); }
    owned_row(const owned_row& other) : owned_row(other.row_) {}
    owned_row(owned_row&&) noexcept = default; ///< a deque's texts stay where they are
    owned_row& operator=(owned_row&&) noexcept = default;
    owned_row& operator=(const owned_row& other) { return *this = owned_row{other}; }
    void set(std::size_t column, std::string_view text) {
        row_.cells[column] = text.empty() ? std::string_view{} : std::string_view{texts_.emplace_back(text)};
    }
    [[nodiscard]] const row& values() const { return row_; }
    [[nodiscard]] row& values() { return row_; }

  private:
    void own() {
        for (auto& cell : row_.cells)
            if (!cell.empty()) cell = texts_.emplace_back(cell);
    }
    row row_;
    std::deque<std::string> texts_;
};

} // namespace tarewell::records
