#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct obligation : recorded {
    std::string id, category, description;
    day date;
    money amount;
    records::fund fund = fund::grant;
    money liquidated; ///< by the liquidations so far
    bool has_document = false;
};

void admit(obligation&& made, season& to);
extern const kind_info obligation_kind;

} // namespace tarewell::records
