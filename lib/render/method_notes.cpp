#include "render/method_notes.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

const char* counted_on(records::counting when) {
    switch (when) {
    case records::counting::weighed:
        return "Material counts as diverted on the day its bale is weighed; residue is deducted "
               "on its own day.";
    case records::counting::shipped:
        return "Material counts as diverted when its bale is both weighed and shipped; residue is "
               "deducted then or on its own "
               "day, whichever is later.";
    case records::counting::accepted:
        return "Material counts as diverted when the processor accepts it, by the weight accepted, which is after all "
               "that the processor rejected by then; what it rejects of the shipment later is deducted.";
    }
    return "";
}

std::string indirect_note(const records::award& award) {
    if (!award.indirect_percent) return "The award gives no percent; nothing is claimed.";
    return fmt::format("{} percent of modified total direct costs (MTDC): direct grant costs less equipment, "
                       "less construction and other costs whose row says that they are out, and less subaward amounts "
                       "over the MTDC limit of their first cost; rounded to the cent once. The quarter's claim is what "
                       "the claim to date grew by.",
                       quantity::shortest_text(*award.indirect_percent));
}

} // namespace

std::vector<std::pair<std::string, std::string>> method_notes(const records::award& award) {
    const std::string unit{quantity::name_of(award.unit)};
    std::vector<std::pair<std::string, std::string>> notes{
        {"Claim and scale", "A bundle's estimate is worked out from the size of the cover it was "
                            "cut from: it is a claim. The scale "
                            "ticket is the evidence. No claim counts as diverted."},
        {"Counted when", counted_on(award.counted_when)},
        {"Weights", fmt::format("Whole thousandths of the award's unit, {}: what is shown is what "
                                "is summed. A weight written in "
                                "another unit was converted exactly (1 lb = 0.45359237 kg) and "
                                "rounded half up once. A ton is "
                                "2,000 lb.",
                                unit)},
        {"Shares", "A bale mixes growers and is weighed once. Its net is shared over its bundles: a bundle "
                   "weighed alone keeps that "
                   "weight, the others share the rest by estimate. The shares sum to the net exactly."},
        {"Residue", "Weight rejected out of a bale on or after its weighing. It never passes the bale's net."},
        {"To date", "Everything in the ledger through the quarter's last day."},
        {"Indirect costs", indirect_note(award)},
        {"Diversion", "Program diversion: farm film is outside the municipal recycling rate."},
        {"Flags", "Flagged rows are included in every figure."},
        {"Note", "Prepared from a ledger that only grows. This report is not legal or accounting "
                 "advice; the award's terms govern."},
    };
    if (award.match_percent && award.base != records::match_base::none)
        notes.insert(
            notes.begin() + 7,
            {"Match", fmt::format("{} percent of the {}, on the grant's direct and indirect costs to date.",
                                  quantity::shortest_text(*award.match_percent),
                                  award.base == records::match_base::total ? "total of grant and match" : "grant")});
    return notes;
}

} // namespace tarewell::render
