#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct haul_row : recorded {
    std::string haul, driver;
    day date;
    site_place from, to;
    bundle_place bundle;
};

void check(const haul_row& made, const season& before, complaints& say);
void admit(haul_row&& made, season& to);
extern const kind_info haul_kind;

} // namespace tarewell::records
