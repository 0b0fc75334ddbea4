#pragma once
// Only for the sources of this room.
#include "ledger/ledger.hpp"

#include <memory>
#include <memory_resource>

namespace tarewell::ledger {

/// Entries that are in the chain and wait to be written, with texts of their own: whoever appended them may go on, and
/// another thread may write them.
class entry_batch {
  public:
    struct entry {
        entry_no seq = 0;
        std::int64_t act = 0;
        deed what{};
        std::optional<entry_no> replaces;
        std::optional<std::int64_t> line;
        std::string_view effective;
        row values;                            ///< of a void its kind alone
        std::string_view contact_digest, salt; ///< empty where the kind has no personal columns
        digest hash{};
    };

    /// A copy of the text that lives as long as the batch.
    std::string_view keep(std::string_view text);
    /// A copy of the row, its texts kept.
    row keep(const row& values);
    void add(const entry& next) { entries_.push_back(next); }
    [[nodiscard]] const std::vector<entry>& entries() const { return entries_; }
    void clear();

  private:
    static constexpr std::size_t usual_size = std::size_t{1} << 16U;
    std::unique_ptr<char[]> usual_ = std::make_unique_for_overwrite<char[]>(usual_size); ///< kept when it is cleared
    std::pmr::monotonic_buffer_resource texts_{usual_.get(), usual_size};
    std::vector<entry> entries_;
};

} // namespace tarewell::ledger
