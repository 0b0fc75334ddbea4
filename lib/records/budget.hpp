#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

struct budget_line : recorded {
    std::string category;
    money grant, match;
};

void admit(budget_line&& line, season& to);
extern const kind_info budget_kind;

} // namespace tarewell::records
