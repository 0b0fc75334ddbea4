#pragma once
#include "records/season.hpp"

#include <vector>

namespace tarewell::reconcile {

/// A ledger row behind a figure, and what it adds to it (thousandths, cents or one; below 0 where it
/// is taken off; none where the row only decides something, as a shipment's date does).
struct evidence_row {
    ledger::kind which{};
    ledger::entry_no entry = 0;
    std::optional<std::int64_t> adds;
};

/// A whole-number sum and the rows that it was summed from.
struct tally {
    std::int64_t sum = 0;
    std::vector<evidence_row> rows;

    void add(ledger::kind which, ledger::entry_no entry, std::int64_t amount) {
        sum += amount;
        rows.push_back({which, entry, amount});
    }
    void look_at(ledger::kind which, ledger::entry_no entry) { rows.push_back({which, entry, std::nullopt}); }
    tally& operator+=(const tally& other) {
        sum += other.sum;
        rows.insert(rows.end(), other.rows.begin(), other.rows.end());
        return *this;
    }
    tally& operator-=(const tally& other) {
        sum -= other.sum;
        for (auto row : other.rows) {
            if (row.adds) row.adds = -*row.adds;
            rows.push_back(row);
        }
        return *this;
    }
};

} // namespace tarewell::reconcile
