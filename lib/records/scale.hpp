#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct scale : recorded {
    scale_id id;
    std::string location, class_name;
    decimal capacity, division;
    weight_unit unit = weight_unit::lb;
    std::optional<day> certified_on, certified_until;
};

void check(const scale& made, const season& before, complaints& say);
void admit(scale&& made, season& to);
extern const kind_info scale_kind;

} // namespace tarewell::records
