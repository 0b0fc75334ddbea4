#include "ledger/image_rows.hpp"

#include <fmt/format.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

using see_row = std::function<void(const stored_row&)>;

/// Every row that was entered through `last`, replaced or not, kind after kind in the order of entry.
void for_each_ever(const ledger_file& file, entry_no last, const see_row& see) {
    std::array<std::vector<entry_no>, kind_count> replaced;
    for (const auto& pair : file.replacements(last))
        file.for_each_journal_entry(pair.first, pair.first, [&](const journal_entry& each) {
            const auto* kind = find_kind(each.kind);
            if (kind != nullptr && each.deed != name_of(deed::void_))
                replaced[static_cast<std::size_t>(kind->which)].push_back(each.seq);
        });
    for (const auto& kind : all_kinds()) {
        auto& gone = replaced[static_cast<std::size_t>(kind.which)];
        std::sort(gone.begin(), gone.end());
        auto next = gone.begin();
        const auto see_gone_before = [&](entry_no entry) {
            for (; next != gone.end() && *next < entry; ++next)
                file.with_entry(kind.which, *next, see);
        };
        file.for_each(kind.which, last, [&](const stored_row& stored) {
            see_gone_before(stored.entry);
            see(stored);
        });
        see_gone_before(last + 1);
    }
}

/// The rows of a few entries.
void for_each_since(const ledger_file& file, entry_no first, entry_no last, const see_row& see) {
    std::vector<std::pair<kind, entry_no>> found;
    file.for_each_journal_entry(first, last, [&](const journal_entry& each) {
        const auto* kind = find_kind(each.kind);
        if (kind != nullptr && each.deed != name_of(deed::void_)) found.emplace_back(kind->which, each.seq);
    });
    for (const auto& [kind, entry] : found)
        file.with_entry(kind, entry, see);
}

/// The rows of an image, one after another.
class image_walk {
  public:
    explicit image_walk(const image& of) : image_{of}, ids_{of.ids()} {}

    /// The next row of a kind; none after the last.
    std::optional<std::pair<entry_no, row>> next(const kind_info& kind) {
        if (kind_ != &kind) {
            kind_ = &kind, columns_ = image_.columns(kind, ids_);
            segment_ = 0, first_ = 0, at_ = 0, rows_.count = 0;
        }
        while (at_ == rows_.count) {
            if (segment_ == image_.segments().size()) return std::nullopt;
            const auto& segment = image_.segments()[segment_];
            if (first_ == segment.rows[static_cast<std::size_t>(kind.which)].count) {
                ++segment_, first_ = 0;
                continue;
            }
            image_.read(segment, kind, first_, rows_);
            first_ += rows_.count, at_ = 0;
        }
        const auto index = at_++;
        return std::pair{rows_.by[index].entry, row_of(kind, rows_, index, columns_)};
    }

  private:
    const image& image_;
    numbered_ids ids_;
    const kind_info* kind_ = nullptr;
    coded_columns columns_;
    coded_rows rows_;
    std::size_t segment_ = 0, at_ = 0;
    std::uint64_t first_ = 0;
};

bool is_same(const row& kept, const row& stored) {
    const auto& told = layout_of_images().of(stored.which);
    for (std::size_t i = 0; i < info(stored.which).columns.size(); ++i)
        if (told[i] != image_layout::left_out && kept[i] != stored[i]) return false;
    return kept.worked_out == stored.worked_out;
}

} // namespace

std::string segment_after(const ledger_file& file, const image& before, const journal_head& head) {
    // One by one costs more than all together where they are many.
    constexpr entry_no many = 100'000;
    image_maker maker;
    const auto first = before.reach() + 1;
    const auto add = [&](const stored_row& stored) {
        if (stored.entry >= first) maker.add(stored);
    };
    if (first == 1 || head.seq - first > many)
        for_each_ever(file, head.seq, add);
    else
        for_each_since(file, first, head.seq, add);
    return maker.segment(before, head.seq, head.hash);
}

std::string difference(const ledger_file& file, const image& made) {
    std::string found;
    image_walk walk{made};
    std::uint64_t alike = 0, all = 0;
    for_each_ever(file, made.reach(), [&](const stored_row& stored) {
        if (!found.empty()) return;
        const auto kept = walk.next(info(stored.values.which));
        if (kept && kept->first == stored.entry && is_same(kept->second, stored.values))
            ++alike;
        else
            found = fmt::format("entry {} is another in it", stored.entry);
    });
    for (const auto& kind : all_kinds())
        all += made.rows(kind.which);
    return found.empty() && alike != all ? "it holds rows that the ledger has not" : found;
}

} // namespace tarewell::ledger
