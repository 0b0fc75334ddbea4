#include "intake/checker.hpp"

#include "estimate/share.hpp"
#include "intake/checker_texts.hpp"
#include "ledger/claims.hpp"

#include <fmt/format.h>

namespace tarewell::intake {
using namespace ledger; // NOLINT

bool needs_award(kind which) {
    switch (which) {
    case kind::award:
    case kind::site:
    case kind::scale:
    case kind::budget:
    case kind::haul:
    case kind::setting:
        return false;
    default:
        return true;
    }
}

quantity::money inkind_value(const row& values) {
    if (!values[8].empty()) return quantity::money_from(quantity::decimal_of(values[8]));
    return quantity::money_from_rate(quantity::decimal_of(values[6]), quantity::decimal_of(values[7]));
}

checker::checker(season& existing) : season_{existing} {
    accepted_.resize(season_.bundles.size());
    bale_of_.resize(season_.bundles.size());
    shipment_of_.resize(season_.bales.size());
    for (const auto& receipt : season_.receipts)
        if (receipt.outcome == outcome::accepted) accepted_[receipt.bundle.index()] = true;
    for (const auto& pressed : season_.bale_rows)
        bale_of_[pressed.bundle.index()] = pressed.bale;
    for (const auto& loaded : season_.shipment_rows)
        shipment_of_[loaded.bale.index()] = loaded.shipment;
    for (std::size_t i = 0; i < season_.hauls.size(); ++i)
        first_haul_row_.emplace(season_.hauls[i].haul, i);
    for (const auto& paid : season_.liquidations)
        note_liquidation(paid);
    for (std::size_t i = 0; i < season_.requests.size(); ++i)
        note_request(i);
}

void checker::work_out(row& values) const {
    const auto unit = season_.the_award ? season_.the_award->unit : weight_unit::lb;
    const auto weight_at = [&](std::size_t value, std::size_t unit_column) -> std::optional<std::int64_t> {
        if (values[value].empty()) return std::nullopt;
        return quantity::weight_from(quantity::decimal_of(values[value]),
                                     *quantity::read_weight_unit(values[unit_column]), unit)
            .count();
    };
    const auto cents_at = [&](std::size_t column) -> std::optional<std::int64_t> {
        if (values[column].empty()) return std::nullopt;
        return quantity::money_from(quantity::decimal_of(values[column])).count();
    };
    switch (values.which) {
    case kind::bundle:
        values.worked_out[0] = weight_at(4, 5);
        break;
    case kind::reject:
        values.worked_out[0] = weight_at(5, 6);
        break;
    case kind::ticket:
        values.worked_out[0] = weight_at(7, 8);
        break;
    case kind::acceptance:
        values.worked_out[0] = weight_at(2, 3);
        break;
    case kind::budget:
    case kind::rebudget: {
        const std::size_t first = values.which == kind::budget ? 1 : 2;
        values.worked_out[0] = cents_at(first);
        values.worked_out[1] = cents_at(first + 1);
        break;
    }
    case kind::cost:
        values.worked_out[0] = cents_at(5);
        break;
    case kind::inkind:
        values.worked_out[0] = inkind_value(values).count();
        break;
    case kind::obligation:
        values.worked_out[0] = cents_at(5);
        break;
    case kind::liquidation:
        values.worked_out[0] = cents_at(3);
        break;
    case kind::income:
        values.worked_out[0] = cents_at(6);
        break;
    case kind::request:
        values.worked_out[0] = cents_at(3);
        break;
    case kind::payment:
        values.worked_out[0] = cents_at(3);
        values.worked_out[1] = cents_at(5);
        break;
    default:
        break;
    }
}

bool checker::is_excused(kind which, std::string_view id) const {
    return all_excused_[static_cast<std::size_t>(which)] ||
           (!excused_.empty() && excused_.contains(fmt::format("{}\x1f{}", static_cast<int>(which), id)));
}

void checker::excuse(const row& values) {
    const auto& kind = info(values.which);
    excused_.insert(fmt::format("{}\x1f{}", static_cast<int>(kind.which), values[kind.key[0]]));
}

bool checker::excuses_any(kind which) const {
    if (all_excused_[static_cast<std::size_t>(which)]) return true;
    const auto prefix = fmt::format("{}\x1f", static_cast<int>(which));
    for (const auto& key : excused_)
        if (key.starts_with(prefix)) return true;
    return false;
}

void checker::excuse_all(kind which) { all_excused_[static_cast<std::size_t>(which)] = true; }

bool checker::check_references(const row& values, const complaint& complain, bool& excused) const {
    const auto& kind = info(values.which);
    bool good = true;
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const auto& column = kind.columns[i];
        if (!column.names || values[i].empty() || season_.defines(*column.names, values[i])) continue;
        if (is_excused(*column.names, values[i])) {
            excused = true;
            continue;
        }
        complain(column.name, fmt::format("no {} {} is defined", describe(*column.names), quoted(values[i])),
                 fmt::format("take in its row of {}.csv first, or mend the id", info(*column.names).file));
        good = false;
    }
    return good;
}

bool checker::check(const row& values, const complaint& complain) {
    bool excused = false;
    if (!check_references(values, complain, excused)) return false;
    // A row that names a refused row can't be held against it; it is not to blame.
    if (excused) return false;
    bool good = true;
    switch (values.which) {
    case kind::award:
        good = check_award(values, complain);
        break;
    case kind::grower:
        good = check_grower(values, complain);
        break;
    case kind::scale:
        good = check_scale(values, complain);
        break;
    case kind::cover:
        good = check_cover(values, complain);
        break;
    case kind::bundle:
        good = check_bundle(values, complain);
        break;
    case kind::receipt:
        good = check_receipt(values, complain, excused);
        break;
    case kind::haul:
        good = check_haul(values, complain);
        break;
    case kind::bale:
        good = check_bale(values, complain);
        break;
    case kind::reject:
        good = check_reject(values, complain);
        break;
    case kind::shipment:
        good = check_shipment(values, complain);
        break;
    case kind::ticket:
        good = check_ticket(values, complain, excused);
        break;
    case kind::cost:
        good = check_cost(values, complain);
        break;
    case kind::inkind:
        good = check_inkind(values, complain);
        break;
    case kind::rate:
        good = check_rate(values, complain);
        break;
    case kind::liquidation:
        good = check_liquidation(values, complain);
        break;
    case kind::income:
        good = check_income(values, complain);
        break;
    case kind::request:
        good = check_request(values, complain);
        break;
    case kind::payment:
        good = check_payment(values, complain);
        break;
    case kind::note:
        good = check_note(values, complain);
        break;
    case kind::amendment:
        good = check_amendment(values, complain);
        break;
    case kind::setting:
        good = check_setting(values, complain);
        break;
    default:
        break;
    }
    return good && !excused;
}

void checker::note(const row& values) {
    accepted_.resize(season_.bundles.size());
    bale_of_.resize(season_.bundles.size());
    shipment_of_.resize(season_.bales.size());
    switch (values.which) {
    case kind::receipt: {
        const auto& receipt = season_.receipts.back();
        if (receipt.outcome == outcome::accepted) accepted_[receipt.bundle.index()] = true;
        break;
    }
    case kind::bale: {
        const auto& pressed = season_.bale_rows.back();
        bale_of_[pressed.bundle.index()] = pressed.bale;
        break;
    }
    case kind::shipment: {
        const auto& loaded = season_.shipment_rows.back();
        shipment_of_[loaded.bale.index()] = loaded.shipment;
        break;
    }
    case kind::haul:
        first_haul_row_.emplace(values[0], season_.hauls.size() - 1);
        break;
    case kind::liquidation:
        note_liquidation(season_.liquidations.back());
        break;
    case kind::request:
        note_request(season_.requests.size() - 1);
        break;
    default:
        break;
    }
}

void checker::note_liquidation(const liquidation& paid) {
    liquidated_.resize(season_.obligations.size());
    liquidated_[paid.obligation] += paid.amount.count();
}

void checker::note_request(std::size_t row_of_request) {
    claimed_in_.resize(season_.costs.size());
    claimed_in_[season_.requests[row_of_request].cost] = row_of_request;
}

void checker::admit(const row& values, entry_no entry, entry_no order, std::size_t line) {
    season_.add(values, entry, order);
    note(values);
    if (values.which == kind::bundle) new_bundles_.push_back({bundle_place{season_.bundles.size() - 1}, line});
}

void checker::finish(kind which,
                     const std::function<void(std::size_t, std::string_view, std::string, std::string)>& complain) {
    if (which != kind::bundle) return;
    std::unordered_map<std::size_t, bool> leaves_nothing;
    const auto nothing_left = [&](registration_place in) {
        const auto known = leaves_nothing.find(in.index());
        if (known != leaves_nothing.end()) return known->second;
        return leaves_nothing.emplace(in.index(), ledger::leaves_nothing(season_, in)).first->second;
    };
    for (const auto& added : new_bundles_) {
        const auto& bundle = season_.at(added.bundle);
        const auto& registration = season_.at(bundle.registration);
        if (!nothing_left(bundle.registration)) continue;
        if (bundle.own_estimate) {
            // Blame the bundle without an estimate where this file holds it; else this one.
            bool older_without = false;
            for (const auto other : registration.bundles)
                older_without = older_without || (!season_.at(other).own_estimate &&
                                                  other.index() < new_bundles_.front().bundle.index());
            if (!older_without) continue;
        }
        complain(added.line, "estimate",
                 bundle.own_estimate
                     ? fmt::format("the estimates of registration {} leave nothing for its bundles without one",
                                   registration.id.text())
                     : fmt::format("is empty, and the covers of registration {} leave nothing for it",
                                   registration.id.text()),
                 "give the bundle's own estimate and unit, or the covers' sizes");
    }
    new_bundles_.clear();
}

} // namespace tarewell::intake
