#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct bundle : recorded {
    bundle_id id;
    registration_place registration;
    std::int64_t number = 1, of = 1;
    std::optional<weight> own_estimate;
    bale_place pressed_in; ///< the bale whose row names it
    bool accepted = false; ///< a receipt says so
};

void check(const bundle& made, const season& before, complaints& say);
void admit(bundle&& made, season& to);
extern const kind_info bundle_kind;

} // namespace tarewell::records
