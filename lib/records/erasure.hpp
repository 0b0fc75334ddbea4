#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// Contact details that were forgotten on request; the contact table shows which.
struct erasure : recorded {
    grower_place grower;
};

/// The entries whose details an erasure's row says are forgotten.
std::vector<entry_no> forgotten_by(const row& erasure);

void admit(erasure&& made, season& to);
extern const kind_info erasure_kind;

} // namespace tarewell::records
