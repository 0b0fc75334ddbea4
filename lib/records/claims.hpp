#pragma once
#include "records/season.hpp"

namespace tarewell::records {

/// Where a bundle's estimate comes from.
enum class basis { constant, thickness, own };
std::string_view name_of(basis value);

/// What a bundle is claimed to weigh.
struct claim {
    weight estimate;
    records::basis basis = basis::constant;
};

/// What a registration's covers are claimed to weigh together, rounded once.
weight worked_out_estimate(const season& of, registration_place registration);

/// True when the registration has a bundle without an estimate of its own and its covers leave
/// nothing to share out to it.
bool leaves_nothing(const season& of, registration_place registration);

/// Every bundle's claim, by its place. A bundle's own estimate stands; those without one share
/// equally what is left of the worked-out estimate, the odd units to the first by number.
std::vector<claim> claims_of(const season& of);

} // namespace tarewell::records
