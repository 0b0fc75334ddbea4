#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct setting : recorded {
    std::string name, value;
    std::optional<day> from;
};

void check(const setting& made, const season& before, complaints& say);
void admit(setting&& made, season& to);
extern const kind_info setting_kind;

} // namespace tarewell::records
