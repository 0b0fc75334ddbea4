#include "records/coded_rows.hpp"

namespace tarewell::records {

const coded_kind& coded(kind which) {
    /// In the order of the enumeration.
    static constexpr const coded_kind* all[kind_count] = {
        &award_coded,      &site_coded,   &grower_coded,       &scale_coded,       &cover_coded,    &bundle_coded,
        &receipt_coded,    &haul_coded,   &bale_coded,         &reject_coded,      &shipment_coded, &ticket_coded,
        &acceptance_coded, &budget_coded, &cost_coded,         &inkind_coded,      &setting_coded,  &amendment_coded,
        &rebudget_coded,   &rate_coded,   &obligation_coded,   &liquidation_coded, &income_coded,   &request_coded,
        &payment_coded,    &note_coded,   &confirmation_coded, &map_rule_coded,    &merge_coded,    &closing_coded,
        &document_coded,   &erasure_coded};
    return *all[static_cast<std::size_t>(which)];
}

} // namespace tarewell::records
