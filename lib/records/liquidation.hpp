#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// What of an obligation became a cost, or was let go.
struct liquidation : recorded {
    std::string id, cost;
    day date;
    std::size_t obligation = 0; ///< its place in the season
    money amount;
};

void check(const liquidation& made, const season& before, complaints& say);
void admit(liquidation&& made, season& to);
extern const kind_info liquidation_kind;

} // namespace tarewell::records
