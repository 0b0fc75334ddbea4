#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

enum class subject { bundle, bale, load };

struct ticket : recorded {
    std::string id, document;
    day date;
    scale_place scale;
    records::subject weighs = subject::bale;
    bundle_place bundle; ///< one of the three, as weighs says
    bale_place bale;
    shipment_place load;
    std::optional<decimal> gross, tare;
    decimal net;
    weight_unit unit = weight_unit::lb;
    weight net_weight;
    bool as_printed = false, manual = false;
};

void check(const ticket& made, const season& before, complaints& say);
void admit(ticket&& made, season& to);
extern const kind_info ticket_kind;

} // namespace tarewell::records
