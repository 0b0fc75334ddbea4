#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

enum class stage { site, baler, processor };

struct reject : recorded {
    std::string id, reason, disposition;
    day date;
    records::stage stage = stage::site;
    bundle_place bundle;
    bale_place bale;
    std::optional<weight> rejected_weight;
    bool has_document = false;
};

void check(const reject& made, const season& before, complaints& say);
void admit(reject&& made, season& to);
extern const kind_info reject_kind;

} // namespace tarewell::records
