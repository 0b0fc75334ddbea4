#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// New amounts of a budget line, from its amendment's date on.
struct rebudget : recorded {
    std::string amendment, category;
    money grant, match;
};

void admit(rebudget&& made, season& to);
extern const kind_info rebudget_kind;

} // namespace tarewell::records
