#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

enum class outcome { accepted, rejected, held };

struct receipt : recorded {
    std::string id, reason, disposition;
    day date;
    site_place site;
    bundle_place bundle;             ///< named by its id, or by what its label says
    registration_place registration; ///< as on its label, where given
    records::outcome outcome = outcome::accepted;
};

void check(const receipt& made, const season& before, complaints& say);
void admit(receipt&& made, season& to);
extern const kind_info receipt_kind;

} // namespace tarewell::records
