#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

enum class match_base { none, total, grant };
enum class counting { weighed, shipped, accepted };

struct award : recorded {
    std::string id, agency, program, region;
    day begins, ends;
    decimal goal_tons;
    int quarter_starts = 1;
    weight_unit unit = weight_unit::lb;
    std::optional<decimal> match_percent, indirect_percent;
    match_base base = match_base::none;
    counting counted_when = counting::weighed;
    [[nodiscard]] quantity::quarter_calendar calendar() const { return quantity::quarter_calendar{quarter_starts}; }
};

/// A match of the whole total leaves nothing for the grant.
bool takes_all(const award& terms);

/// Reads "total" or "grant".
match_base base_of(std::string_view text);

void check(const award& terms, const season& before, complaints& say);
void admit(award&& terms, season& to);
extern const kind_info award_kind;

} // namespace tarewell::records
