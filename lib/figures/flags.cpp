#include "figures/flags.hpp"

#include "figures/excess_advances.hpp"
#include "figures/expected_nets.hpp"

namespace tarewell::figures {

std::vector<reconcile::flag> flags_of(const records::season& season, const reconcile::reckoning& reckoned) {
    auto flags = reconcile::flags_of_paper(season, reckoned);
    if (!season.the_award) return flags;
    for (auto& more : {unexpected_nets(season, reckoned), excess_advances(season, reckoned)})
        flags.insert(flags.end(), more.begin(), more.end());
    reconcile::put_in_order(flags);
    return flags;
}

} // namespace tarewell::figures
