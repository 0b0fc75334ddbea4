#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// One person under two ids: what is registered for `grower` counts as `into`'s, from this entry on.
struct merge : recorded {
    grower_place grower, into;
    std::string reason;
};

void check(const merge& made, const season& before, complaints& say);
void admit(merge&& made, season& to);
extern const kind_info merge_kind;

} // namespace tarewell::records
