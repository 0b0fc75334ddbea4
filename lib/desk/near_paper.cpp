#include "desk/near_paper.hpp"

#include "ledger/latest.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::desk {

using namespace records; // NOLINT
namespace {

constexpr kind kinds_of_money[] = {kind::cost,    kind::inkind,  kind::income, kind::obligation, kind::liquidation,
                                   kind::request, kind::payment, kind::budget, kind::rebudget,   kind::rate};

bool is_money(kind which) {
    return std::find(std::begin(kinds_of_money), std::end(kinds_of_money), which) != std::end(kinds_of_money);
}

} // namespace

/// What stands in a column of the rows whose other column holds a text.
std::vector<std::string> near_paper::values_where(kind which, std::string_view column, std::string_view text,
                                                  std::string_view wanted) const {
    const auto by = info(which).index_of(column), of = info(which).index_of(wanted);
    std::vector<std::string> found;
    for (const auto& [entry, stored] : near_.rows(which))
        if (stored.values()[by] == text) found.emplace_back(stored.values()[of]);
    return found;
}

/// Its bundles share its claim.
void near_paper::registration(const std::string& id) {
    near_.with(kind::cover, "registration", id);
    near_.with(kind::bundle, "registration", id);
}

void near_paper::all_of_registration(const std::string& id) {
    registration(id);
    for (const auto& each : values_where(kind::bundle, "registration", id, "bundle"))
        bundle_and_bale(each);
}

/// All that happened to it but in its bale.
void near_paper::bundle(const std::string& id) {
    if (id.empty() || !seen_.emplace(kind::bundle, id).second) return;
    near_.with(kind::bundle, "bundle", id);
    for (const auto& from : values_where(kind::bundle, "bundle", id, "registration")) {
        registration(from);
        near_.with(kind::receipt, "registration", from);
    }
    near_.with(kind::receipt, "bundle", id);
    near_.with(kind::haul, "bundle", id);
    near_.with(kind::reject, "bundle", id);
    near_.with(kind::ticket, "subject", id);
    near_.with(kind::bale, "bundle", id);
}

void near_paper::bundle_and_bale(const std::string& id) {
    bundle(id);
    for (const auto& in : values_where(kind::bale, "bundle", id, "bale"))
        bale(in);
}

/// All that decides its weight and its bundles' shares; a load's ticket weighs its bales together.
void near_paper::bale(const std::string& id) {
    if (id.empty() || !seen_.emplace(kind::bale, id).second) return;
    near_.with(kind::bale, "bale", id);
    for (const auto& each : values_where(kind::bale, "bale", id, "bundle"))
        bundle(each);
    near_.with(kind::ticket, "subject", id);
    near_.with(kind::reject, "bale", id);
    near_.with(kind::shipment, "bale", id);
    for (const auto& on : values_where(kind::shipment, "bale", id, "shipment")) {
        near_.with(kind::ticket, "subject", on);
        if (!values_where(kind::ticket, "subject", on, "ticket").empty()) load(on);
    }
}

void near_paper::load(const std::string& id) {
    if (id.empty() || !seen_.emplace(kind::shipment, id).second) return;
    near_.with(kind::shipment, "shipment", id);
    for (const auto& each : values_where(kind::shipment, "shipment", id, "bale"))
        bale(each);
    near_.with(kind::ticket, "subject", id);
    near_.with(kind::acceptance, "shipment", id);
}

/// Money is summed and compared as a whole: what it costs grows with the rows of money alone.
void near_paper::money(const row& centre) {
    for (const auto each : kinds_of_money)
        near_.all(each);
    const auto& of = info(centre.which);
    near_.with(kind::document, "record", fmt::format("{} {}", of.name, centre[of.key[0]]));
    if (const auto at = of.find("shipment")) load(std::string{centre[*at]});
}

void near_paper::ticket(const row& centre) {
    const std::string subject{centre["subject"]};
    near_.with(kind::ticket, "document", centre["document"]);
    if (centre["weighs"] == "bundle")
        bundle_and_bale(subject);
    else if (centre["weighs"] == "bale")
        bale(subject);
    else
        load(subject);
}

/// A bundle told by its id or by what its label says.
void near_paper::labelled(const row& centre) {
    bundle_and_bale(std::string{centre["bundle"]});
    const auto label = info(centre.which).find("registration");
    if (!label || centre[*label].empty()) return;
    const std::string from{centre[*label]};
    registration(from);
    for (const auto& [entry, stored] : near_.rows(kind::bundle)) {
        const auto& values = stored.values();
        if (values["registration"] == from && values["number"] == centre["number"])
            return bundle_and_bale(std::string{values["bundle"]});
    }
}

void near_paper::around(const row& centre) {
    near_.all(kind::closing);
    near_.around(centre);
    if (is_money(centre.which)) return money(centre);
    switch (centre.which) {
    case kind::cover:
        return registration(std::string{centre["registration"]});
    case kind::bundle:
    case kind::haul:
        return bundle_and_bale(std::string{centre["bundle"]});
    case kind::receipt:
        return labelled(centre);
    case kind::bale:
        return bale(std::string{centre["bale"]});
    case kind::reject:
        bundle_and_bale(std::string{centre["bundle"]});
        return bale(std::string{centre["bale"]});
    case kind::ticket:
        return ticket(centre);
    case kind::acceptance:
        near_.with(kind::income, "shipment", centre["shipment"]);
        near_.with(kind::cost, "shipment", centre["shipment"]);
        return load(std::string{centre["shipment"]});
    case kind::grower:
        latest_growers();
        [[fallthrough]];
    case kind::merge:
        return near_.with(kind::cover, "grower", centre["grower"]);
    default:
        return;
    }
}

void near_paper::around_all_it_moves(const row& centre) {
    around(centre);
    if (const auto at = info(centre.which).find("registration"); at && !centre[*at].empty())
        all_of_registration(std::string{centre[*at]});
    if (centre.which == kind::shipment) load(std::string{centre["shipment"]});
    for (const auto& [what, column] : {std::pair{kind::bale, "bale"}, std::pair{kind::shipment, "shipment"}}) {
        std::set<std::string> ids;
        for (const auto& [entry, stored] : near_.rows(what))
            ids.emplace(stored.values()[column]);
        for (const auto& id : ids)
            what == kind::bale ? bale(id) : load(id);
    }
}

void near_paper::latest_growers() {
    constexpr std::int64_t most = 500;
    std::vector<std::string> ids;
    ledger::for_each_latest(file_, kind::grower, head_, most,
                            [&](const ledger::stored_row& each) { ids.emplace_back(each.values["grower"]); });
    for (const auto& each : ids)
        near_.with(kind::grower, "grower", each);
}

void near_paper::latest_weighed_bales(std::int64_t most) {
    std::vector<std::string> bales;
    ledger::for_each_latest(file_, kind::ticket, head_, most, [&](const ledger::stored_row& each) {
        if (each.values["weighs"] == "bale") bales.emplace_back(each.values["subject"]);
    });
    near_.order_matters_no_more();
    for (const auto& each : bales)
        net_and_claims(each);
}

/// What a net is held against: which bundles are in the bale, and what they claim.
void near_paper::net_and_claims(const std::string& id) {
    if (seen_.contains({kind::bale, id})) return;
    near_.with(kind::ticket, "subject", id);
    near_.with(kind::bale, "bale", id);
    for (const auto& each : values_where(kind::bale, "bale", id, "bundle")) {
        near_.with(kind::receipt, "bundle", each);
        near_.with(kind::reject, "bundle", each);
        for (const auto& from : values_where(kind::bundle, "bundle", each, "registration"))
            near_.with(kind::bundle, "registration", from);
    }
}

season near_paper::season(const std::vector<entry_no>& told, const std::set<entry_no>& voided) const {
    auto made = near_.season(voided);
    for (const auto entry : told)
        file_.for_each_journal_entry(entry, entry, [&](const ledger::journal_entry& each) {
            if (const auto on = quantity::read_day(each.at.substr(0, 10))) made.learn_day(entry, *on);
        });
    return made;
}

} // namespace tarewell::desk
