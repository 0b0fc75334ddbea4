#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// What an hour, a mile or a use is worth at most, from a day on; the coordinator keeps the table.
struct rate : recorded {
    std::string id, kind, what, source;
    day begins;
    decimal value;
};

void check(const rate& made, const season& before, complaints& say);
void admit(rate&& made, season& to);
extern const kind_info rate_kind;

} // namespace tarewell::records
