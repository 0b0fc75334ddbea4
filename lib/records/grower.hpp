#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// The grower of bundles found without a label.
inline constexpr std::string_view unknown_grower = "unknown";

struct grower : recorded {
    grower_id id;
    std::string name, farm, town, region, email, phone;
    bool erased = false; ///< contact details were erased on request
};

void check(const grower& made, const season& before, complaints& say);
void admit(grower&& made, season& to);
extern const kind_info grower_kind;

} // namespace tarewell::records
