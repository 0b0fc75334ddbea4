#include "ledger/season.hpp"

#include "ledger/settings.hpp"

#include <algorithm>
#include <charconv>

namespace tarewell::ledger {
namespace {

template <class Index, class Id> auto place_in(const Index& index, const Id& id) {
    const auto found = index.find(id);
    return found == index.end() ? typename Index::mapped_type{} : found->second;
}

} // namespace

season::season() {
    grower unknown;
    unknown.id = grower_id{std::string{unknown_grower}};
    unknown.name = "(found without a label)";
    growers.push_back(unknown);
    grower_index_.emplace(unknown_grower, grower_place{0});
}

site_place season::find_site(std::string_view id) const { return place_in(site_index_, id); }
grower_place season::find_grower(std::string_view id) const { return place_in(grower_index_, id); }
scale_place season::find_scale(std::string_view id) const { return place_in(scale_index_, id); }
registration_place season::find_registration(std::string_view id) const { return place_in(registration_index_, id); }
bundle_place season::find_bundle(std::string_view id) const { return place_in(bundle_index_, id); }
bale_place season::find_bale(std::string_view id) const { return place_in(bale_index_, id); }
shipment_place season::find_shipment(std::string_view id) const { return place_in(shipment_index_, id); }

bundle_place season::find_bundle(registration_place registration, std::int64_t number) const {
    return place_in(label_index_, label_key(registration, number));
}

bool season::defines(kind which, std::string_view id) const {
    switch (which) {
    case kind::site:
        return bool{find_site(id)};
    case kind::grower:
        return bool{find_grower(id)};
    case kind::scale:
        return bool{find_scale(id)};
    case kind::cover:
        return bool{find_registration(id)};
    case kind::bundle:
        return bool{find_bundle(id)};
    case kind::bale:
        return bool{find_bale(id)};
    case kind::shipment:
        return bool{find_shipment(id)};
    case kind::amendment:
        return find_amendment(id) != nullptr;
    case kind::cost:
        return find_cost(id).has_value();
    case kind::obligation:
        return find_obligation(id).has_value();
    case kind::request:
        return find_request(id) != nullptr;
    default:
        return false;
    }
}

std::optional<std::size_t> season::find_cost(std::string_view id) const {
    const auto found = cost_index_.find(id);
    return found == cost_index_.end() ? std::nullopt : std::optional{found->second};
}

std::optional<std::size_t> season::find_obligation(std::string_view id) const {
    const auto found = obligation_index_.find(id);
    return found == obligation_index_.end() ? std::nullopt : std::optional{found->second};
}

const request_row* season::find_request(std::string_view id) const {
    const auto found = request_index_.find(id);
    return found == request_index_.end() ? nullptr : &requests[found->second];
}

const amendment* season::find_amendment(std::string_view id) const {
    for (const auto& each : amendments)
        if (each.id == id) return &each;
    return nullptr;
}

award season::terms_on(day on) const {
    award terms = the_award.value();
    for (const auto& each : amendments) {
        if (each.date > on) break;
        if (each.ends) terms.ends = *each.ends;
        if (each.goal_tons) terms.goal_tons = *each.goal_tons;
        if (each.match_percent) terms.match_percent = each.match_percent;
        if (each.base != match_base::none) terms.base = each.base;
        if (each.indirect_percent) terms.indirect_percent = each.indirect_percent;
    }
    return terms;
}

std::vector<budget_line> season::budget_on(day on) const {
    std::vector<budget_line> lines = budget;
    for (const auto& amended : amendments) {
        if (amended.date > on) break;
        for (const auto& each : rebudgets) {
            if (each.amendment != amended.id) continue;
            const budget_line line{each.entry, each.order, each.category, each.grant, each.match};
            const auto found = std::find_if(lines.begin(), lines.end(),
                                            [&](const budget_line& known) { return known.category == each.category; });
            if (found == lines.end())
                lines.push_back(line);
            else
                *found = line;
        }
    }
    return lines;
}

const closing* season::closing_of(quantity::quarter quarter) const {
    for (const auto& each : closings)
        if (each.quarter == quarter) return &each;
    return nullptr;
}

std::string season::setting_on(std::string_view name, std::optional<day> on) const {
    const setting* best = nullptr;
    for (const auto& each : settings) {
        if (each.name != name || (each.from && (!on || *each.from > *on))) continue;
        if (best == nullptr || !best->from || (each.from && *each.from >= *best->from)) best = &each;
    }
    if (best != nullptr) return best->value;
    const auto* known = find_setting(name);
    return known == nullptr ? std::string{} : std::string{known->default_value};
}

estimate::constants season::constants_on(std::optional<day> on) const {
    return {quantity::decimal_of(setting_on("curvature_factor", on)),
            quantity::decimal_of(setting_on("area_weight_lb_per_ft2", on)),
            quantity::decimal_of(setting_on("density_g_per_cm3", on))};
}

season load_season(const ledger_file& from, entry_no seq, const std::function<void(const stored_row&)>& see) {
    // A correction keeps the place in the order of entry of what it corrects.
    tsl::robin_map<entry_no, entry_no> root;
    for (const auto& [replaced, by] : from.replacements(seq)) {
        const auto known = root.find(replaced);
        root[by] = known == root.end() ? replaced : known->second;
    }
    season loaded;
    for (const auto& kind : all_kinds())
        from.for_each(kind.which, seq, [&](const stored_row& stored) {
            if (see) see(stored);
            const auto found = root.find(stored.entry);
            loaded.add(stored.values, stored.entry, found == root.end() ? stored.entry : found->second);
        });
    return loaded;
}

} // namespace tarewell::ledger
