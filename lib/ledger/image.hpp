#pragma once
// Only for the sources of this room.
#include "ledger/image_arrays.hpp"
#include "ledger/image_layout.hpp"
#include "ledger/ledger.hpp"
#include "records/coded_rows.hpp"

#include <span>

namespace tarewell::ledger {

/// Rows of a kind in one stretch of entries.
struct image_rows {
    std::uint64_t count = 0;
    image_array entries;
    std::array<image_array, records::most_columns> cells; ///< numbers of texts; of columns that are left out none
    std::array<image_array, records::most_worked_out> worked_out;
};

/// A file's bytes.
struct image_memory {
    std::unique_ptr<char[]> bytes;
    std::size_t size = 0;
};

/// All rows that entries `from` to `to` wrote, without contact details and what the season doesn't keep.
struct image_segment {
    entry_no from = 0, to = 0;
    digest head{};     ///< the journal's hash at `to`
    digest checksum{}; ///< of all its bytes, and of the segment before
    std::string_view bytes;
    std::array<image_rows, records::kind_count> rows;
};

/// The rows of a ledger's entries from the first on, in the order of entry, by kind and column: they never change, so
/// an image of them is only ever added to. What was replaced is in it too. schema/README.md has its bytes.
class image {
  public:
    image();
    /// Adds the next segment; its bytes are checked whole first. Throws unusable_image, and is not to be used then.
    void add(std::string bytes);
    /// All segments of a file.
    void add_all(image_memory bytes);

    /// The last entry that it holds; 0 for none.
    [[nodiscard]] entry_no reach() const { return segments_.empty() ? 0 : segments_.back().to; }
    [[nodiscard]] const std::vector<image_segment>& segments() const { return segments_; }
    [[nodiscard]] const records::numbered_texts& texts(std::size_t group) const { return *texts_[group]; }
    [[nodiscard]] digest last_checksum() const { return segments_.empty() ? digest{} : segments_.back().checksum; }
    [[nodiscard]] std::uint64_t rows(kind which) const;
    /// Leaves out what reaches past an entry.
    void cut_to(entry_no last);

    [[nodiscard]] records::numbered_ids::texts_of_kinds ids() const;
    /// What the columns' numbers stand for.
    [[nodiscard]] records::coded_columns columns(const records::kind_info& of, const records::numbered_ids& ids) const;
    /// The rows from `first` on as far as they fit, in force or not; `by` has their entries.
    void read(const image_segment& from, const records::kind_info& of, std::uint64_t first,
              records::coded_rows& to) const;

  private:
    std::vector<image_segment> segments_;
    std::vector<std::shared_ptr<const void>> kept_; ///< what the segments look into
    std::vector<std::shared_ptr<records::numbered_texts>> texts_;

    std::size_t add(std::shared_ptr<const void> owner, std::string_view bytes);
};

/// A segment's first bytes.
inline constexpr std::string_view image_begins{"tarewell image\n\0", 16};
inline constexpr std::size_t image_header_bytes = 16 + 3 * 8 + 5 * 32;

/// Rows by kind, from which a segment is made.
class image_maker {
  public:
    image_maker();
    ~image_maker();
    image_maker(const image_maker&) = delete;
    image_maker& operator=(const image_maker&) = delete;
    /// In the order of entry within each kind.
    void add(const stored_row& row);
    /// The segment that goes on from `before` through `to`, at which the journal's hash is `head`.
    [[nodiscard]] std::string segment(const image& before, entry_no to, const digest& head);

  private:
    struct kept;
    std::unique_ptr<kept> kept_;
};

} // namespace tarewell::ledger
