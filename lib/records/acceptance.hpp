#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct acceptance : recorded {
    shipment_place shipment;
    day date;
    weight accepted_weight;
    bool has_document = false;
    weight_unit unit = weight_unit::lb;
    std::optional<decimal> received, rejected; ///< by the processor's scale, in that unit
};

void check(const acceptance& made, const season& before, complaints& say);
void admit(acceptance&& made, season& to);
extern const kind_info acceptance_kind;

} // namespace tarewell::records
