#include "ledger/image.hpp"

#include <tsl/robin_map.h>

#include <deque>
#include <vector>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr std::uint64_t zigzag(std::int64_t number) {
    return (static_cast<std::uint64_t>(number) << 1U) ^ static_cast<std::uint64_t>(number >> 63U);
}

/// The texts of one group that are new to the maker, numbered from 1 in the order in which they came.
class gathered_texts {
  public:
    std::uint32_t number_of(std::string_view text) {
        if (text.empty()) return 0;
        const auto known = numbers_.find(text);
        if (known != numbers_.end()) return known->second;
        const auto kept = keep(text);
        texts_.push_back(kept);
        return numbers_.emplace(kept, static_cast<std::uint32_t>(texts_.size())).first->second;
    }

    /// Each one's number once `before` is gone on from: those that stand there keep theirs, the others follow.
    std::vector<std::uint32_t> numbers_after(const numbered_texts& before) const {
        std::vector<std::uint32_t> final_of(texts_.size() + 1);
        if (!texts_.empty())
            for (std::uint32_t number = 1; number < before.size(); ++number)
                if (const auto found = numbers_.find(before[number]); found != numbers_.end())
                    final_of[found->second] = number;
        auto next = static_cast<std::uint32_t>(before.size());
        for (std::size_t i = 1; i < final_of.size(); ++i)
            if (final_of[i] == 0) final_of[i] = next++;
        return final_of;
    }
    [[nodiscard]] const std::vector<std::string_view>& texts() const { return texts_; }

  private:
    tsl::robin_map<std::string_view, std::uint32_t> numbers_;
    std::vector<std::string_view> texts_;
    std::deque<std::string> blocks_;

    std::string_view keep(std::string_view text) {
        constexpr std::size_t block = 1U << 16U;
        if (blocks_.empty() || blocks_.back().capacity() - blocks_.back().size() < text.size())
            blocks_.emplace_back().reserve(std::max(block, text.size()));
        const auto at = blocks_.back().size();
        blocks_.back() += text; // within what is reserved, so nothing moves
        return std::string_view{blocks_.back()}.substr(at);
    }
};

struct gathered_rows {
    std::vector<std::uint64_t> entries;
    std::array<std::vector<std::uint32_t>, most_columns> cells;
    std::array<std::vector<std::uint64_t>, most_worked_out> worked_out;
};

void put_texts(std::string& to, const gathered_texts& gathered, const std::vector<std::uint32_t>& final_of,
               std::size_t known) {
    std::vector<std::uint32_t> lengths;
    std::string all;
    for (std::size_t i = 0; i < gathered.texts().size(); ++i) {
        if (final_of[i + 1] < known) continue;
        lengths.push_back(static_cast<std::uint32_t>(gathered.texts()[i].size()));
        all += gathered.texts()[i];
    }
    put_whole(to, std::uint64_t{lengths.size()});
    put_whole(to, std::uint64_t{all.size()});
    put_array(to, std::span<const std::uint32_t>{lengths});
    to += all;
}

} // namespace

struct image_maker::kept {
    std::vector<gathered_texts> texts{layout_of_images().groups};
    std::array<gathered_rows, kind_count> rows;
    /// The kind whose ids a cell of a column by row names.
    std::array<std::array<std::vector<std::uint8_t>, most_columns>, kind_count> named;
};

image_maker::image_maker() : kept_{std::make_unique<kept>()} {}
image_maker::~image_maker() = default;

void image_maker::add(const stored_row& row) {
    const auto which = static_cast<std::size_t>(row.values.which);
    const auto& kind = info(row.values.which);
    auto& rows = kept_->rows[which];
    rows.entries.push_back(static_cast<std::uint64_t>(row.entry));
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const auto told = layout_of_images().of(kind.which)[i];
        if (told == image_layout::left_out) continue;
        const auto group = group_of(row.values, i);
        rows.cells[i].push_back(kept_->texts[group].number_of(row.values[i]));
        if (told == image_layout::by_row) kept_->named[which][i].push_back(static_cast<std::uint8_t>(group));
    }
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i) {
        const auto& number = row.values.worked_out[i];
        rows.worked_out[i].push_back(number ? zigzag(*number) + 1 : 0);
    }
}

std::string image_maker::segment(const image& before, entry_no to, const digest& head) {
    std::string body;
    std::vector<std::vector<std::uint32_t>> final_of(kept_->texts.size());
    for (std::size_t group = 0; group < final_of.size(); ++group) {
        final_of[group] = kept_->texts[group].numbers_after(before.texts(group));
        put_texts(body, kept_->texts[group], final_of[group], before.texts(group).size());
    }
    for (const auto& kind : all_kinds()) {
        auto& rows = kept_->rows[static_cast<std::size_t>(kind.which)];
        put_whole(body, std::uint64_t{rows.entries.size()});
        if (rows.entries.empty()) continue;
        put_array(body, std::span<const std::uint64_t>{rows.entries});
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const auto group = layout_of_images().of(kind.which)[i];
            if (group == image_layout::left_out) continue;
            const auto& named = kept_->named[static_cast<std::size_t>(kind.which)][i];
            for (std::size_t at = 0; at < rows.cells[i].size(); ++at) {
                auto& cell = rows.cells[i][at];
                cell = final_of[group == image_layout::by_row ? named[at] : static_cast<std::size_t>(group)][cell];
            }
            put_array(body, std::span<const std::uint32_t>{rows.cells[i]});
        }
        for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
            put_array(body, std::span<const std::uint64_t>{rows.worked_out[i]});
    }
    sha256 hasher;
    std::string all{image_begins};
    put_whole(all, std::uint64_t{body.size()});
    put_whole(all, before.reach() + 1);
    put_whole(all, to);
    for (const auto& each : {head, layout_of_images().fingerprint, before.last_checksum(), hasher.of(body)})
        all += bytes(each);
    all += bytes(hasher.of(all));
    return all += body;
}

} // namespace tarewell::ledger
