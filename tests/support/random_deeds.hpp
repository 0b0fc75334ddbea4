#pragma once
#include "intake/intake.hpp"
#include "intake/keeping.hpp"
#include "support.hpp"

#include <random>

namespace tarewell::tests {

/// One of the golden seasons in a ledger, and deeds drawn from a seed: records, corrections and voids of any kind,
/// merged growers and erasures. What is refused leaves the ledger as it was.
class random_deeds {
  public:
    random_deeds(const std::string& season, std::uint32_t seed) : lots_{seed} {
        intake::take_season(file_, source_path("tests/golden/seasons/") + season, around_);
    }
    [[nodiscard]] ledger::ledger_file& file() { return file_; }
    [[nodiscard]] int done() const { return done_; }
    std::size_t below(std::size_t end) { return std::uniform_int_distribution<std::size_t>{0, end - 1}(lots_); }

    void some_deed() {
        try {
            deed();
            ++done_;
        } catch (const records::input_error&) { // refused
        }
    }
    /// Somebody's contact details are erased; the entry of it.
    records::entry_no erase_somebody() {
        const auto growers = rows_of(records::kind::grower);
        return intake::erase_contact(file_, growers[below(growers.size())][0], "asked to", around_);
    }

  private:
    using texts = std::vector<std::string>;
    temporary_folder folder_;
    ledger::surroundings around_ = standing_still();
    ledger::ledger_file file_ = ledger::ledger_file::create(folder_.file("basin.tarewell"));
    std::mt19937 lots_;
    int made_ = 0, done_ = 0;

    void deed() {
        if (below(12) == 0) return merge();
        const auto kinds = records::recorded_kinds();
        const auto& kind = kinds[below(kinds.size())];
        const auto rows = rows_of(kind.which);
        if (rows.empty()) return;
        const auto& row = rows[below(rows.size())];
        texts key{row[kind.key[0]]};
        if (kind.key_columns == 2) key.push_back(row[kind.key[1]]);
        const auto drawn = below(4);
        if (drawn == 0) {
            intake::void_record(file_, kind.which, key, "a test", around_);
        } else if (drawn == 1) {
            intake::correct(file_, kind.which, key, some_changes(kind, rows), "a test", around_);
        } else {
            auto values = some_changes(kind, rows);
            for (std::size_t i = 0; i < row.size(); ++i)
                if (!row[i].empty()) values.try_emplace(std::string{kind.columns[i].name}, row[i]);
            values[std::string{kind.columns[kind.key[0]].name}] = "NEW" + std::to_string(++made_);
            intake::record(file_, kind.which, values, around_);
        }
    }

    void merge() {
        const auto growers = rows_of(records::kind::grower);
        intake::record(file_, records::kind::merge,
                       {{"grower", growers[below(growers.size())][0]},
                        {"into", growers[below(growers.size())][0]},
                        {"reason", "one person"}},
                       around_);
    }

    std::vector<texts> rows_of(records::kind which) {
        std::vector<texts> rows;
        file_.for_each(which, file_.head().seq, [&](const ledger::stored_row& stored) {
            rows.emplace_back();
            for (std::size_t i = 0; i < records::info(which).columns.size(); ++i)
                rows.back().emplace_back(stored.values[i]);
        });
        return rows;
    }

    intake::named_values some_changes(const records::kind_info& kind, const std::vector<texts>& rows) {
        intake::named_values changes;
        const auto column = below(kind.columns.size());
        changes[std::string{kind.columns[column].name}] = rows[below(rows.size())][column];
        return changes;
    }
};

} // namespace tarewell::tests
