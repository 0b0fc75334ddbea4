#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct shipment {
    shipment_id id;
    day date;
    std::string processor, carrier, bill_of_lading;
    std::vector<bale_place> bales;
    std::optional<day> accepted_on; ///< by its processor
};

struct shipment_row : recorded {
    shipment_place shipment;
    bale_place bale;
};

/// A row of shipments.csv: one bale, and what it says of its shipment.
struct shipment_line : shipment_row {
    shipment_id id;
    day date;
    std::string processor, carrier, bill_of_lading;
};

void check(const shipment_line& line, const season& before, complaints& say);
void admit(shipment_line&& line, season& to);
extern const kind_info shipment_kind;

} // namespace tarewell::records
