#pragma once
#include "records/claims.hpp"
#include "records/season.hpp"

#include <map>
#include <optional>
#include <vector>

namespace tarewell::reconcile {

using records::bale_place;
using records::bundle_place;
using quantity::day;
using quantity::weight;

/// Where a bale's weight comes from.
struct weighing {
    day on;
    weight net;
    std::size_t ticket = 0; ///< index into the season's tickets
    bool by_load = false;   ///< a share of a load's ticket
};

/// A receipt or reject that rejects a bundle, by its place in the season's vectors.
struct rejection {
    day on;
    records::entry_no order = 0;
    records::kind by = records::kind::reject;
    std::size_t index = 0;
};

struct bundle_outcome {
    records::claim claim;
    std::optional<std::size_t> accepting_receipt; ///< index into the season's receipts
    std::vector<rejection> rejections;            ///< by date, then order of entry
    bale_place bale;                              ///< as pressed
    bool pulled = false;                          ///< rejected before its bale was weighed
    std::optional<std::size_t> spot_ticket;       ///< the spot weight in force
    std::optional<weight> share;                  ///< of its bale's net
    [[nodiscard]] bool in_bale() const { return bale && !pulled; }
};

struct bale_outcome {
    std::optional<weighing> weighed;
    std::vector<bundle_place> inside; ///< as pressed less what was pulled, by id
    weight estimate;                  ///< sum over `inside`
    records::shipment_place shipment;
    weight residue; ///< all of it, whenever
};

/// Weight rejected out of a weighed bale.
struct residue {
    std::size_t reject = 0; ///< index into the season's rejects
    bale_place bale;
    day on;
    weight asked;   ///< its weight, the bundle's share or the bale's net
    weight counted; ///< what of it the bale still had
};

/// What the paper says, put together: who is in which bale, what it weighs, whose share is whose.
/// Flags are told apart from it (flags.hpp). Works on dates, never on the order of taking in.
struct reckoning {
    std::vector<bundle_outcome> bundles;
    std::vector<bale_outcome> bales;
    std::vector<residue> residues;               ///< by date, then order of entry
    std::vector<std::size_t> weightless_rejects; ///< rejects that reject nothing and weigh nothing
    std::vector<std::size_t> late_receipts;      ///< rejecting receipts after the bale's weighing
    std::vector<std::size_t> empty_loads;        ///< load tickets that leave nothing for the bales
    std::vector<std::size_t> check_tickets;      ///< tickets that decide no bale's weight

    [[nodiscard]] const bundle_outcome& at(bundle_place p) const { return bundles[p.index()]; }
    [[nodiscard]] const bale_outcome& at(bale_place p) const { return bales[p.index()]; }
};

reckoning reckon(const records::season& season);

} // namespace tarewell::reconcile
