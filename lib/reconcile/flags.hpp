#pragma once
#include "quantity/quarter.hpp"
#include "reconcile/reckoning.hpp"

#include <span>
#include <string>
#include <vector>

namespace tarewell::reconcile {

/// A ledger row that a flag is about.
struct row_ref {
    records::kind which{};
    records::entry_no entry = 0;
};

/// Something that a reviewer would ask about. Flagged is not left out: flagged rows count.
struct flag {
    std::string_view code; ///< our own; see flag_codes()
    std::string subject;   ///< the ids that it is about, for sorting and reading
    std::string sentence;
    day on; ///< the day that it belongs to
    std::vector<row_ref> rows;
};

struct flag_code {
    std::string_view code;
    std::string_view meaning;
    bool stops_closing; ///< a quarter is closed over it only with a reason
};
std::span<const flag_code> flag_codes();
bool stops_closing(std::string_view code);

/// Every flag of the season, in order of code, day and subject.
std::vector<flag> flags_of(const records::season& season, const reckoning& reckoned);

/// Those that belong to the days given.
std::vector<flag> flags_in(std::vector<flag> flags, quantity::span_of_days days);

} // namespace tarewell::reconcile
