#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// Contact details that were forgotten on request; the contact table shows which.
struct erasure : recorded {
    grower_place grower;
};

void admit(erasure&& made, season& to);
extern const kind_info erasure_kind;

} // namespace tarewell::records
