#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct site : recorded {
    site_id id;
    std::string name, town, host;
};

void admit(site&& made, season& to);
extern const kind_info site_kind;

} // namespace tarewell::records
