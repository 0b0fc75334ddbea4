#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// What income does to the award (2 CFR 200.307(b)): it lowers it, adds to it, or counts as match.
enum class income_method { deduction, addition, match };

/// Program income earned, or spent on what the award allows.
struct income : recorded {
    std::string id, description, party, cost, document;
    day date;
    bool earned = true; ///< else spent
    income_method method = income_method::deduction;
    money amount;
    shipment_place shipment; ///< of which it came, where it is told
};

void check(const income& made, const season& before, complaints& say);
void admit(income&& made, season& to);
extern const kind_info income_kind;

} // namespace tarewell::records
