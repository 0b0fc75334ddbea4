#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct bale_row : recorded {
    bale_place bale;
    bundle_place bundle;
};

struct bale {
    bale_id id;
    day date;
    site_place site;
    std::vector<bundle_place> bundles; ///< as pressed, in order of entry
    entry_no first_row = 0;            ///< entry of its first row
    shipment_place loaded_in;          ///< the shipment whose row names it
};

/// A row of bales.csv: one bundle, and what it says of its bale.
struct bale_line : bale_row {
    bale_id id;
    day date;
    site_place site;
};

void check(const bale_line& line, const season& before, complaints& say);
void admit(bale_line&& line, season& to);
extern const kind_info bale_kind;

} // namespace tarewell::records
