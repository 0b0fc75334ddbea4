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
    std::optional<decimal> received, rejected; ///< by the processor's scale, in the row's unit
};

void admit(acceptance&& made, season& to);
extern const kind_info acceptance_kind;

} // namespace tarewell::records
