#pragma once
#include "records/award.hpp"
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// A dated change of the award's terms, which holds from its date on; what it leaves empty goes on as it was.
struct amendment : recorded {
    std::string id, why;
    day date;
    std::optional<day> ends;
    std::optional<decimal> goal_tons, match_percent, indirect_percent;
    match_base base = match_base::none;
};

void check(const amendment& made, const season& before, complaints& say);
void admit(amendment&& made, season& to);
extern const kind_info amendment_kind;

} // namespace tarewell::records
