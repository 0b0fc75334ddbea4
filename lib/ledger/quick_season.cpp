#include "ledger/quick_season.hpp"

#include "ledger/image_file.hpp"
#include "ledger/image_rows.hpp"
#include "ledger/load_season.hpp"

#include <fmt/format.h>

#include <unordered_map>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

/// What corrections and voids say by a sequence: who is replaced, and whose place in the order of entry a row has.
class replaced_entries {
  public:
    replaced_entries(const ledger_file& file, entry_no seq, entry_no reach)
        : gone_(static_cast<std::size_t>(reach) + 1) {
        for (const auto& [replaced, by] : file.replacements(seq)) {
            if (replaced <= reach) gone_[static_cast<std::size_t>(replaced)] = true;
            const auto known = root_.find(replaced);
            root_[by] = known == root_.end() ? replaced : known->second;
        }
    }
    [[nodiscard]] bool holds(entry_no entry) const { return gone_[static_cast<std::size_t>(entry)]; }
    [[nodiscard]] entry_no order_of(entry_no entry) const {
        if (root_.empty()) return entry;
        const auto found = root_.find(entry);
        return found == root_.end() ? entry : found->second;
    }

  private:
    std::vector<bool> gone_;
    std::unordered_map<entry_no, entry_no> root_;
};

/// Leaves the rows that are in force as of `seq`.
void keep_in_force(coded_rows& rows, const kind_info& kind, entry_no seq, const replaced_entries& replaced) {
    std::size_t kept = 0;
    for (std::size_t i = 0; i < rows.count; ++i) {
        const auto entry = rows.by[i].entry;
        if (entry > seq || replaced.holds(entry)) continue;
        rows.by[kept] = {entry, replaced.order_of(entry)};
        if (kept != i) {
            for (std::size_t column = 0; column < kind.columns.size(); ++column)
                rows.cells[column][kept] = rows.cells[column][i];
            for (std::size_t number = 0; number < kind.worked_out.size(); ++number)
                rows.worked_out[number][kept] = rows.worked_out[number][i];
        }
        ++kept;
    }
    rows.count = kept;
}

/// A season out of an image, kind after kind.
class image_reading {
  public:
    image_reading(const image& of, const ledger_file& file, entry_no seq, people whose)
        : image_{of}, file_{file}, seq_{seq}, whose_{whose}, replaced_{file, seq, of.reach()}, adding_{of.ids()},
          rows_{std::make_unique<coded_rows>()} {
        for (const auto& [first, text] : file.days_of_entry(seq))
            if (const auto on = quantity::read_day(text)) season_.learn_day(first, *on);
    }

    season run() && {
        for (const auto& kind : all_kinds()) {
            const auto count = image_.rows(kind.which);
            if (count == 0) continue;
            make_room(season_, kind.which, count);
            if (whose_ == people::named && kind.has_personal_columns())
                add_people(kind);
            else
                add(kind);
        }
        return std::move(season_);
    }

  private:
    const image& image_;
    const ledger_file& file_;
    entry_no seq_;
    people whose_;
    replaced_entries replaced_;
    adding_by_number adding_;
    std::unique_ptr<coded_rows> rows_;
    season season_;

    template <class Body> void for_each_block(const kind_info& kind, Body&& body) {
        for (const auto& segment : image_.segments())
            for (std::uint64_t first = 0; first < segment.rows[static_cast<std::size_t>(kind.which)].count;
                 first += coded_rows::most) {
                image_.read(segment, kind, first, *rows_);
                keep_in_force(*rows_, kind, seq_, replaced_);
                body();
            }
    }

    void add(const kind_info& kind) {
        auto columns = image_.columns(kind, *adding_.ids);
        for_each_block(kind, [&] {
            coded(kind.which).add(season_, *rows_, columns, [&](std::size_t index, std::size_t column) {
                refuse_undefined(row_of(kind, *rows_, index, columns), column, rows_->by[index].entry);
            });
        });
    }

    /// The same rows from the ledger, which has their contact details as well.
    void add_people(const kind_info& kind) {
        std::vector<std::pair<recorded, std::uint32_t>> all;
        for_each_block(kind, [&] {
            for (std::size_t i = 0; i < rows_->count; ++i)
                all.emplace_back(rows_->by[i], rows_->cells[kind.key[0]][i]);
        });
        auto next = all.begin();
        file_.for_each(kind.which, seq_, [&](const stored_row& stored) {
            if (next == all.end() || next->first.entry != stored.entry)
                throw unusable_image("it holds other rows than the ledger");
            adding_.own = next->second;
            season_.add(stored.values, stored.entry, next->first.order);
            ++next;
        });
        if (next != all.end()) throw unusable_image("it holds other rows than the ledger");
    }
};

/// An image that reaches as far as is asked, with what follows after the kept one; kept, where that is worth it.
image image_reaching(const ledger_file& file, entry_no seq, const image_use& use) {
    image found;
    try {
        found = read_image(file);
    } catch (const unusable_image&) {
        found = image{};
    }
    const auto head = file.head();
    const auto kept = found.reach();
    if (kept < seq) found.add(segment_after(file, found, head));
    if (found.reach() - kept > use.most_beyond) write_image(file, found);
    return found;
}

} // namespace

season quick_season(const ledger_file& from, entry_no seq, people whose, image_use use) {
    if (seq < use.from_entries_on || !can_have_image(from)) return load_season(from, seq);
    try {
        return image_reading{image_reaching(from, seq, use), from, seq, whose}.run();
    } catch (const unusable_image&) {
        return load_season(from, seq);
    }
}

image_check check_image(const ledger_file& of, image_use use) {
    using state = image_check::state;
    if (of.head().seq < use.from_entries_on || !can_have_image(of)) return {};
    const auto made_anew = [&] {
        image anew;
        anew.add(segment_after(of, image{}, of.head()));
        return write_image(of, anew) ? anew.reach() : 0;
    };
    std::string why;
    try {
        const auto kept = read_image(of);
        const auto differs = difference(of, kept);
        if (differs.empty()) return {state::held, kept.reach(), {}};
        if (made_anew() == 0) remove_image(of);
        return {state::differs, kept.reach(), differs};
    } catch (const unusable_image& unusable) {
        why = unusable.what();
    }
    const auto reach = made_anew();
    return reach == 0 ? image_check{} : image_check{state::made_anew, reach, why};
}

} // namespace tarewell::ledger
