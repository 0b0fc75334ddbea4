#pragma once
#include "quantity/money.hpp"
#include "reconcile/reckoning.hpp"

#include <string>

namespace tarewell::reconcile {

using quantity::money;

/// A shipment's whole paper: what left by our scale, what its processor says of it, and the money made of that.
struct settlement {
    records::shipment_place shipment;
    std::size_t bales = 0, unweighed = 0;
    weight shipped;                                ///< by the tickets of the bales that are weighed
    weight residue;                                ///< what rejects took out of them, whenever
    weight rejected_by_it;                         ///< of that, by the processor
    const records::acceptance* accepted = nullptr; ///< in the season; null until it came
    std::optional<weight> received, rejected;      ///< by the processor's scale, in the award's unit
    std::optional<money> asked;                    ///< its price or charge x the accepted weight
    std::vector<const records::income*> incomes;   ///< earned of the shipment
    std::vector<const records::cost*> costs;       ///< for the shipment, whoever was paid
    money earned;                                  ///< sum of `incomes`
    money charged;                                 ///< of `costs`, those paid to the processor
    money spent;                                   ///< of `costs`, all

    /// What the processor rejected: as it says, else received less accepted, else by its rejects; none where nobody
    /// says.
    [[nodiscard]] std::optional<weight> rejected_weight() const;
    /// What was recorded for the price or charge.
    [[nodiscard]] money settled() const { return accepted != nullptr && accepted->charge ? charged : earned; }
    /// A price or charge above nothing, of which no income or cost was made.
    [[nodiscard]] bool is_open() const;
};

/// One for each shipment, in their order. `season` must outlive it.
std::vector<settlement> settlements_of(const records::season& season, const reckoning& reckoned);

/// Processors' names are held together by their letters and digits, whatever their case.
std::string processor_key(std::string_view name);

} // namespace tarewell::reconcile
