#pragma once
#include "audit/expected_net.hpp"
#include "quantity/decimal.hpp"
#include "reconcile/flags.hpp"

namespace tarewell::figures {

/// The limits of a net, from the settings of a day.
audit::net_limits net_limits_on(const records::season& season, quantity::day on);

/// A net that is flagged for that already ("net-far-from-claim").
bool is_far_from_claim(const audit::expected_net& judged, const audit::net_limits& limits);

/// Bales whose net is not what the other tickets let expect: "net-in-doubt" and "net-unexpected". Bales weighed
/// together as a load are not judged, and say nothing of others. Of more than 200 tickets those of a site are held
/// against each other a hundred at a time, of more than 2,000 fifty, so that flags stay quick.
std::vector<reconcile::flag> unexpected_nets(const records::season& season, const reconcile::reckoning& reckoned);

/// One bale's net among the tickets of the others, the nearest 200 of them.
audit::expected_net judge_bale(const records::season& season, const reconcile::reckoning& reckoned,
                               records::bale_place bale);

} // namespace tarewell::figures
