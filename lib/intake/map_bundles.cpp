#include "intake/map_bundles.hpp"

#include "estimate/plan.hpp"
#include "intake/format_check.hpp"
#include "records/claims.hpp"

namespace tarewell::intake {
namespace {

using namespace records; // NOLINT

/// The ledger's terms alone, and a site.
season terms_of(const ledger::ledger_file& file) {
    season terms;
    for (const auto which : {kind::award, kind::setting})
        file.for_each(which, file.head().seq,
                      [&](const ledger::stored_row& stored) { terms.add(stored.values, stored.entry, stored.entry); });
    row site{kind::site};
    site.set("site", "here");
    site.set("name", "here");
    terms.add(site, 0, 0);
    return terms;
}

/// The cover as one of a registration of nobody's: its weight is the same. False where a value is no good: that is told
/// elsewhere.
bool add_cover(season& to, const mapped_record& cover) {
    row values{kind::cover};
    for (std::size_t i = 0; i < cover.values.size(); ++i)
        values.cells[i] = cover.values[i];
    values.set("registration", "here");
    values.set("grower", unknown_grower);
    values.set("site", "here");
    if (!check_format(values, [](auto, const auto&, const auto&) {})) return false;
    to.add(values, 0, 0);
    return true;
}

} // namespace

std::optional<std::size_t> bundles_planned(const ledger::ledger_file& in, const std::vector<mapped_record>& made) {
    auto terms = terms_of(in);
    if (!terms.the_award) return std::nullopt;
    for (const auto& each : made)
        if (each.which == kind::cover && !add_cover(terms, each)) return std::nullopt;
    const auto registration = terms.find_registration("here");
    if (!registration) return std::nullopt;
    const auto claimed = worked_out_estimate(terms, registration);
    if (claimed.count() <= 0) return std::nullopt;
    const auto pounds = [&](const char* setting) {
        return quantity::weight_from(terms.number_on(setting, terms.at(registration).date), weight_unit::lb,
                                     terms.the_award->unit);
    };
    return estimate::bundle_plan(claimed, {pounds("bundle_aim_lb"), pounds("bundle_maximum_lb")}).size();
}

} // namespace tarewell::intake
