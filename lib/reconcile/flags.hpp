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

enum class flag_level {
    note,     ///< what a reader should know
    question, ///< what a reviewer would ask
    blocks    ///< a quarter is closed over it only with a reason
};
/// "note", "question", "blocks closing"
std::string_view name_of(flag_level level);

struct flag_code {
    std::string_view code;
    std::string_view meaning;
    flag_level level;
};
std::span<const flag_code> flag_codes();
/// Throws std::logic_error for a code that is none.
flag_level level_of(std::string_view code);
/// False for a code that is none, too.
bool blocks_closing(std::string_view code);

/// Every flag of the season but those that other tickets tell of a net (figures/expected_nets.hpp), in order.
std::vector<flag> flags_of_paper(const records::season& season, const reckoning& reckoned);

/// Puts flags in the order of code, day and subject.
void put_in_order(std::vector<flag>& flags);

/// Those that belong to the days given.
std::vector<flag> flags_in(std::vector<flag> flags, quantity::span_of_days days);

} // namespace tarewell::reconcile
