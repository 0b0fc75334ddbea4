#include "ledger/kinds.hpp"

#include <stdexcept>

namespace tarewell::ledger {
namespace {

using ct = column_type;
using words = std::string_view;

constexpr bool required = true;
constexpr bool optional_column = false;

constexpr words unit_words[] = {"lb", "kg"};
constexpr words base_words[] = {"total", "grant"};
constexpr words counted_words[] = {"weighed", "shipped", "accepted"};
constexpr words outcome_words[] = {"accepted", "rejected", "held"};
constexpr words stage_words[] = {"site", "baler", "processor"};
constexpr words disposition_words[] = {"returned", "landfilled", "elsewhere"};
constexpr words weighs_words[] = {"bundle", "bale", "load"};
constexpr words entry_words[] = {"printed", "manual"};
constexpr words yes_words[] = {"yes", "no"};
constexpr words fund_words[] = {"grant", "match"};
constexpr words income_words[] = {"earned", "spent"};
constexpr words method_words[] = {"deduction", "addition"};
constexpr words payment_words[] = {"advance", "reimbursement", "retainage"};
constexpr words inkind_words[] = {"hours", "miles", "donated_use", "donated_goods"};
// The object classes of SF-424A line 6 and the indirect line.
constexpr words category_words[] = {"personnel",   "fringe",       "travel", "equipment", "supplies",
                                    "contractual", "construction", "other",  "indirect"};

constexpr column plain(words name, ct type, bool is_required = optional_column) {
    return {name, type, is_required, {}, std::nullopt, false, false};
}
constexpr column shared(words name, ct type, bool is_required = optional_column) {
    return {name, type, is_required, {}, std::nullopt, true, false};
}
constexpr column one_of(words name, std::span<const words> list, bool is_required = optional_column) {
    return {name, ct::word, is_required, list, std::nullopt, false, false};
}
constexpr column naming(words name, kind of, bool is_required = optional_column, bool is_shared = false) {
    return {name, ct::id, is_required, {}, of, is_shared, false};
}
constexpr column personal(words name, bool is_required = optional_column) {
    return {name, ct::text, is_required, {}, std::nullopt, false, true};
}

constexpr column award_columns[] = {plain("award", ct::id, required),
                                    plain("agency", ct::text, required),
                                    plain("program", ct::text, required),
                                    plain("region", ct::id, required),
                                    plain("begins", ct::date, required),
                                    plain("ends", ct::date, required),
                                    plain("goal_tons", ct::nonnegative, required),
                                    plain("quarter_starts", ct::month, required),
                                    one_of("unit", unit_words, required),
                                    plain("match_percent", ct::nonnegative),
                                    one_of("match_base", base_words),
                                    plain("indirect_percent", ct::nonnegative),
                                    one_of("counted_when", counted_words)};

constexpr column site_columns[] = {plain("site", ct::id, required),
                                   plain("name", ct::text, required),
                                   plain("town", ct::text),
                                   plain("host", ct::text),
                                   plain("opens", ct::time),
                                   plain("closes", ct::time),
                                   plain("capacity_lb", ct::nonnegative)};

constexpr column grower_columns[] = {
    plain("grower", ct::id, required), personal("name", required), personal("farm"), plain("town", ct::text),
    plain("region", ct::id, required), personal("email"),          personal("phone")};

constexpr column scale_columns[] = {
    plain("scale", ct::id, required),          plain("location", ct::text),
    plain("class", ct::text, required),        plain("capacity", ct::positive, required),
    plain("division", ct::positive, required), one_of("unit", unit_words, required),
    plain("certified_on", ct::date),           plain("certified_until", ct::date)};

constexpr column cover_columns[] = {shared("registration", ct::id, required),
                                    shared("date", ct::date, required),
                                    naming("grower", kind::grower, required, true),
                                    naming("site", kind::site, required, true),
                                    plain("cover", ct::id, required),
                                    plain("structure", ct::text),
                                    plain("length_ft", ct::positive),
                                    plain("width_ft", ct::positive),
                                    plain("rise_ft", ct::positive),
                                    plain("layers", ct::count),
                                    plain("film", ct::text),
                                    plain("mil", ct::positive)};

constexpr column bundle_columns[] = {
    plain("bundle", ct::id, required),    naming("registration", kind::cover, required),
    plain("number", ct::count, required), plain("of", ct::count, required),
    plain("estimate", ct::nonnegative),   one_of("unit", unit_words)};

constexpr column receipt_columns[] = {plain("receipt", ct::id, required),
                                      plain("date", ct::date, required),
                                      naming("site", kind::site, required),
                                      naming("bundle", kind::bundle),
                                      naming("registration", kind::cover),
                                      plain("number", ct::count),
                                      one_of("outcome", outcome_words, required),
                                      plain("reason", ct::text),
                                      plain("disposition", ct::text),
                                      plain("received_by", ct::text)};

constexpr column haul_columns[] = {shared("haul", ct::id, required),           shared("date", ct::date, required),
                                   naming("from", kind::site, required, true), naming("to", kind::site, required, true),
                                   naming("bundle", kind::bundle, required),   shared("driver", ct::text)};

constexpr column bale_columns[] = {shared("bale", ct::id, required), shared("date", ct::date, required),
                                   naming("site", kind::site, required, true),
                                   naming("bundle", kind::bundle, required)};

constexpr column reject_columns[] = {
    plain("reject", ct::id, required), plain("date", ct::date, required),   one_of("stage", stage_words, required),
    naming("bundle", kind::bundle),    naming("bale", kind::bale),          plain("weight", ct::nonnegative),
    one_of("unit", unit_words),        plain("reason", ct::text, required), one_of("disposition", disposition_words),
    plain("document", ct::text)};

constexpr column shipment_columns[] = {
    shared("shipment", ct::id, required), shared("date", ct::date, required), shared("processor", ct::text, required),
    naming("bale", kind::bale, required), shared("carrier", ct::text),        shared("bill_of_lading", ct::text)};

constexpr column ticket_columns[] = {plain("ticket", ct::id, required),
                                     plain("date", ct::date, required),
                                     naming("scale", kind::scale, required),
                                     one_of("weighs", weighs_words, required),
                                     plain("subject", ct::id, required),
                                     plain("gross", ct::nonnegative),
                                     plain("tare", ct::nonnegative),
                                     plain("net", ct::positive, required),
                                     one_of("unit", unit_words, required),
                                     plain("weigher", ct::text),
                                     one_of("entry", entry_words, required),
                                     one_of("as_printed", yes_words),
                                     plain("document", ct::text)};

constexpr column acceptance_columns[] = {naming("shipment", kind::shipment, required),
                                         plain("date", ct::date, required), plain("weight", ct::nonnegative, required),
                                         one_of("unit", unit_words, required), plain("document", ct::text)};

constexpr column budget_columns[] = {one_of("category", category_words, required), plain("grant", ct::amount, required),
                                     plain("match", ct::amount, required)};

constexpr column cost_columns[] = {plain("cost", ct::id, required),
                                   plain("date", ct::date, required),
                                   one_of("category", category_words, required),
                                   plain("description", ct::text, required),
                                   plain("payee", ct::text),
                                   plain("amount", ct::credit, required),
                                   one_of("fund", fund_words, required),
                                   plain("source", ct::text),
                                   plain("subaward", ct::id),
                                   plain("paid_on", ct::date),
                                   plain("document", ct::text)};

constexpr column inkind_columns[] = {plain("inkind", ct::id, required),
                                     plain("date", ct::date, required),
                                     one_of("kind", inkind_words, required),
                                     plain("giver", ct::text, required),
                                     naming("site", kind::site),
                                     plain("source", ct::text),
                                     plain("quantity", ct::nonnegative, required),
                                     plain("rate", ct::nonnegative, required),
                                     plain("amount", ct::amount),
                                     plain("document", ct::text)};

constexpr column setting_columns[] = {plain("setting", ct::id, required), plain("from", ct::date),
                                      plain("value", ct::text, required)};

// What an award's amendment changes holds from its date on; what it leaves empty goes on as it was.
constexpr column amendment_columns[] = {plain("amendment", ct::id, required),
                                        plain("date", ct::date, required),
                                        plain("ends", ct::date),
                                        plain("goal_tons", ct::nonnegative),
                                        plain("match_percent", ct::nonnegative),
                                        one_of("match_base", base_words),
                                        plain("indirect_percent", ct::nonnegative),
                                        plain("description", ct::text, required),
                                        plain("document", ct::text)};

constexpr column rebudget_columns[] = {naming("amendment", kind::amendment, required),
                                       one_of("category", category_words, required),
                                       plain("grant", ct::amount, required), plain("match", ct::amount, required)};

// What an hour, a mile or a use is worth at most from a day on; the coordinator keeps the table.
constexpr column rate_columns[] = {plain("rate", ct::id, required),
                                   one_of("kind", inkind_words, required),
                                   plain("what", ct::text),
                                   plain("begins", ct::date, required),
                                   plain("value", ct::nonnegative, required),
                                   plain("source", ct::text, required)};

constexpr column obligation_columns[] = {plain("obligation", ct::id, required),
                                         plain("date", ct::date, required),
                                         one_of("category", category_words, required),
                                         plain("description", ct::text, required),
                                         plain("payee", ct::text),
                                         plain("amount", ct::amount, required),
                                         one_of("fund", fund_words, required),
                                         plain("document", ct::text)};

// What of an obligation became a cost, or was let go.
constexpr column liquidation_columns[] = {plain("liquidation", ct::id, required), plain("date", ct::date, required),
                                          naming("obligation", kind::obligation, required),
                                          plain("amount", ct::amount, required), naming("cost", kind::cost)};

constexpr column income_columns[] = {plain("income", ct::id, required),
                                     plain("date", ct::date, required),
                                     one_of("kind", income_words, required),
                                     one_of("method", method_words, required),
                                     plain("description", ct::text, required),
                                     plain("party", ct::text),
                                     plain("amount", ct::amount, required),
                                     naming("cost", kind::cost),
                                     plain("document", ct::text)};

constexpr column request_columns[] = {shared("request", ct::id, required), shared("date", ct::date, required),
                                      naming("cost", kind::cost, required), shared("indirect", ct::amount),
                                      shared("document", ct::text)};

constexpr column payment_columns[] = {plain("payment", ct::id, required),
                                      plain("date", ct::date, required),
                                      one_of("kind", payment_words, required),
                                      plain("amount", ct::amount, required),
                                      naming("request", kind::request),
                                      plain("retained", ct::amount),
                                      plain("document", ct::text)};

constexpr column note_columns[] = {plain("quarter", ct::id, required), plain("part", ct::id, required),
                                   plain("text", ct::text, required)};

constexpr column closing_columns[] = {plain("quarter", ct::id, required),
                                      plain("as_of", ct::count, required),
                                      plain("head_hash", ct::id, required),
                                      plain("prepared_by", ct::text, required),
                                      plain("reviewed_by", ct::text, required),
                                      plain("certified_by", ct::text, required),
                                      plain("accepted", ct::text),
                                      plain("figures", ct::text, required)};

constexpr column document_columns[] = {plain("record", ct::text, required), plain("sha256", ct::id, required),
                                       plain("name", ct::text, required), plain("bytes", ct::count, required)};

constexpr column erasure_columns[] = {naming("grower", kind::grower, required), plain("entries", ct::text, required)};

constexpr words estimate_out[] = {"estimate_thousandths"};
constexpr words weight_out[] = {"weight_thousandths"};
constexpr words net_out[] = {"net_thousandths"};
constexpr words budget_out[] = {"grant_cents", "match_cents"};
constexpr words amount_out[] = {"amount_cents"};
constexpr words indirect_out[] = {"indirect_cents"};
constexpr words payment_out[] = {"amount_cents", "retained_cents"};
constexpr words value_out[] = {"value_cents"};

constexpr kind_info kinds[kind_count] = {
    {kind::award, "award", "award", award_columns, 1, {0, 0}, 4, {}},
    {kind::site, "site", "sites", site_columns, 1, {0, 0}, {}, {}},
    {kind::grower, "grower", "growers", grower_columns, 1, {0, 0}, {}, {}},
    {kind::scale, "scale", "scales", scale_columns, 1, {0, 0}, 6, {}},
    {kind::cover, "cover", "covers", cover_columns, 2, {0, 4}, 1, {}},
    {kind::bundle, "bundle", "bundles", bundle_columns, 1, {0, 0}, {}, estimate_out},
    {kind::receipt, "receipt", "receipts", receipt_columns, 1, {0, 0}, 1, {}},
    {kind::haul, "haul", "hauls", haul_columns, 2, {0, 4}, 1, {}},
    {kind::bale, "bale", "bales", bale_columns, 2, {0, 3}, 1, {}},
    {kind::reject, "reject", "rejects", reject_columns, 1, {0, 0}, 1, weight_out},
    {kind::shipment, "shipment", "shipments", shipment_columns, 2, {0, 3}, 1, {}},
    {kind::ticket, "ticket", "tickets", ticket_columns, 1, {0, 0}, 1, net_out},
    {kind::acceptance, "acceptance", "acceptances", acceptance_columns, 1, {0, 0}, 1, weight_out},
    {kind::budget, "budget", "budget", budget_columns, 1, {0, 0}, {}, budget_out},
    {kind::cost, "cost", "costs", cost_columns, 1, {0, 0}, 1, amount_out},
    {kind::inkind, "inkind", "inkind", inkind_columns, 1, {0, 0}, 1, value_out},
    {kind::setting, "setting", "settings", setting_columns, 2, {0, 1}, 1, {}},
    {kind::amendment, "amendment", "amendments", amendment_columns, 1, {0, 0}, 1, {}},
    {kind::rebudget, "rebudget", "rebudgets", rebudget_columns, 2, {0, 1}, {}, budget_out},
    {kind::rate, "rate", "rates", rate_columns, 1, {0, 0}, 3, {}},
    {kind::obligation, "obligation", "obligations", obligation_columns, 1, {0, 0}, 1, amount_out},
    {kind::liquidation, "liquidation", "liquidations", liquidation_columns, 1, {0, 0}, 1, amount_out},
    {kind::income, "income", "income", income_columns, 1, {0, 0}, 1, amount_out},
    {kind::request, "request", "requests", request_columns, 2, {0, 2}, 1, indirect_out},
    {kind::payment, "payment", "payments", payment_columns, 1, {0, 0}, 1, payment_out},
    {kind::note, "narrative", "narrative", note_columns, 2, {0, 1}, {}, {}},
    {kind::closing, "closing", "closings", closing_columns, 1, {0, 0}, {}, {}, true},
    {kind::document, "document", "documents", document_columns, 2, {0, 1}, {}, {}, true},
    {kind::erasure, "erasure", "erasures", erasure_columns, 1, {0, 0}, {}, {}, true},
};

} // namespace

std::optional<std::size_t> kind_info::find(std::string_view column_name) const {
    for (std::size_t i = 0; i < columns.size(); ++i)
        if (columns[i].name == column_name) return i;
    return std::nullopt;
}

std::size_t kind_info::index_of(std::string_view column_name) const {
    const auto index = find(column_name);
    if (!index) throw std::logic_error("no such column: " + std::string{column_name});
    return *index;
}

const kind_info& info(kind which) { return kinds[static_cast<std::size_t>(which)]; }

std::span<const kind_info> all_kinds() { return kinds; }

std::span<const kind_info> recorded_kinds() { return std::span{kinds}.first(static_cast<std::size_t>(kind::closing)); }

const kind_info* find_kind(std::string_view name) {
    for (const auto& candidate : kinds)
        if (candidate.name == name || candidate.file == name) return &candidate;
    return nullptr;
}

namespace {
std::string joined_key(const row& record, char between) {
    const auto& kind = info(record.which);
    std::string key{record[kind.key[0]]};
    if (kind.key_columns == 2) {
        key += between;
        key += record[kind.key[1]];
    }
    return key;
}
} // namespace

std::string key_of(const row& record) { return joined_key(record, '\x1f'); }

std::string key_for_people(const row& record) { return joined_key(record, ' '); }

} // namespace tarewell::ledger
