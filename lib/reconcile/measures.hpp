#pragma once
#include "reconcile/measure.hpp"

/// What a reckoned season measures of bundles and weight.
namespace tarewell::reconcile::measures {

extern const measure registered, received, rejected; ///< bundles, adding their estimates; received until they left
extern const measure baled;                          ///< bundle rows of bales, as pressed
extern const measure pressed;                        ///< the same by bale, until it is shipped
extern const measure weighed;                        ///< bales, adding their net
extern const measure claimed;                        ///< bundles in a bale when it was weighed, adding their estimates
extern const measure residue;                        ///< adding what was rejected out of weighed bales
extern const measure shipped;                        ///< bales shipped and weighed, adding their net
extern const measure accepted;                       ///< acceptances, adding their weight

/// What counts as diverted by the award's way of counting, and what is taken off it.
extern const measure counted_bales, counted_acceptances, counted_residue;
/// Bales weighed, until their shipment or acceptance counts them, adding their net; and what was rejected out of them.
extern const measure waiting_bales, waiting_residue;

extern const measure served;  ///< accepting receipts, by grower; `unknown` left out
extern const measure visited; ///< receipts, by site

} // namespace tarewell::reconcile::measures
