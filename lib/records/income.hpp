#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// Program income earned, or spent on what the award allows.
struct income : recorded {
    std::string id, description, cost;
    day date;
    bool earned = true, deducts = true; ///< deducts: the deduction alternative, else the addition alternative
    money amount;
    bool has_document = false;
};

void check(const income& made, const season& before, complaints& say);
void admit(income&& made, season& to);
extern const kind_info income_kind;

} // namespace tarewell::records
