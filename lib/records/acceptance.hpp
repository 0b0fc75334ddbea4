#pragma once
#include "records/recorded.hpp"

namespace tarewell::records {

struct season;
class complaints;

/// What a price is for; a ton has 2,000 lb, a tonne 1,000 kg.
enum class price_unit { lb, kg, ton, tonne };
std::string_view name_of(price_unit unit);

struct acceptance : recorded {
    shipment_place shipment;
    day date;
    weight accepted_weight;
    decimal written_weight; ///< what was accepted, in `unit`
    std::string document, reason;
    weight_unit unit = weight_unit::lb;
    std::optional<decimal> received, rejected; ///< by the processor's scale, in that unit
    std::optional<decimal> price, charge;      ///< dollars by `per`: what it pays, or what it charges; never both
    price_unit per = price_unit::lb;
};

/// price x weight, the weight converted exactly into what the price is for and the product rounded half up to the cent
/// once. Throws std::overflow_error past 64 bits, and where a number has too many digits for that.
money price_of(const decimal& weight, weight_unit in, const decimal& price, price_unit per);
/// Its price or charge times the weight accepted; none where it has neither.
std::optional<money> asked_for(const acceptance& made);

void check(const acceptance& made, const season& before, complaints& say);
void admit(acceptance&& made, season& to);
extern const kind_info acceptance_kind;

} // namespace tarewell::records
