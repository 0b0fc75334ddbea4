#include "records/season.hpp"

#include "records/coded_rows.hpp"
#include "records/settings.hpp"

#include <tsl/robin_map.h>

#include <algorithm>

namespace tarewell::records {
namespace {

struct text_hash {
    using is_transparent = void;
    std::size_t operator()(std::string_view text) const { return std::hash<std::string_view>{}(text); }
};

struct mixed_hash {
    std::size_t operator()(std::uint64_t key) const { return (key ^ (key >> 29U)) * 0x9E3779B97F4A7C15U; }
};

/// A registration has few bundles; those of one with more than these are found by a table.
constexpr std::size_t most_looked_through = 32;

/// What a label says: the registration's place and the bundle's number, in one number.
std::uint64_t label_key(registration_place registration, std::int64_t number) {
    return (std::uint64_t{registration.index()} << 32U) | static_cast<std::uint32_t>(number);
}

} // namespace

struct season::index::maps {
    std::array<tsl::robin_map<std::string, std::uint32_t, text_hash, std::equal_to<>>, kind_count> places;
    std::shared_ptr<numbered_ids> numbered;                         ///< asked before `places`
    tsl::robin_map<std::uint64_t, bundle_place, mixed_hash> labels; ///< of registrations of many bundles

    /// What was known before is known by number, too.
    void begin_numbered(std::shared_ptr<numbered_ids> ids) {
        numbered = std::move(ids);
        for (std::size_t i = 0; i < kind_count; ++i)
            for (const auto& [id, place] : places[i])
                numbered->learn(static_cast<kind>(i), id, place);
    }
};

season::index::index() : of{std::make_unique<maps>()} {}
season::index::~index() = default;
season::index::index(const index& other) : of{std::make_unique<maps>(*other.of)} {}
season::index::index(index&&) noexcept = default;
season::index& season::index::operator=(index other) noexcept {
    of = std::move(other.of);
    return *this;
}

season::season() {
    grower unknown;
    unknown.id = grower_id{std::string{unknown_grower}};
    unknown.name = "(found without a label)";
    keep(kind::grower, growers, std::move(unknown));
}

void season::learn(kind which, std::string_view id, std::size_t place) {
    auto& numbered = index_.of->numbered;
    if (const auto* adding = adding_by_number::now(); adding != nullptr && adding->own != 0) {
        if (numbered != adding->ids) index_.of->begin_numbered(adding->ids);
        return numbered->learn(which, adding->own, place);
    }
    if (numbered && numbered.use_count() > 1) numbered = std::make_shared<numbered_ids>(*numbered); // a copy's, too
    if (numbered && numbered->learn(which, id, place)) return;
    index_.of->places[static_cast<std::size_t>(which)].emplace(id, static_cast<std::uint32_t>(place));
}

void season::learn_label(registration_place registration, std::int64_t number, bundle_place place) {
    const auto& known = at(registration).bundles;
    if (known.size() == most_looked_through)
        for (const auto each : known)
            index_.of->labels.emplace(label_key(registration, at(each).number), each);
    if (known.size() >= most_looked_through) index_.of->labels.emplace(label_key(registration, number), place);
}

std::size_t season::place_of(kind which, std::string_view id) const {
    if (const auto& numbered = index_.of->numbered)
        if (const auto place = numbered->place_of(which, id); place != nowhere) return place;
    const auto& places = index_.of->places[static_cast<std::size_t>(which)];
    const auto found = places.find(id);
    return found == places.end() ? nowhere : std::size_t{found->second};
}

bundle_place season::find_bundle(registration_place registration, std::int64_t number) const {
    if (!registration) return {};
    const auto& known = at(registration).bundles;
    if (known.size() <= most_looked_through) {
        const auto found =
            std::find_if(known.begin(), known.end(), [&](bundle_place p) { return at(p).number == number; });
        return found == known.end() ? bundle_place{} : *found;
    }
    const auto found = index_.of->labels.find(label_key(registration, number));
    return found == index_.of->labels.end() ? bundle_place{} : found->second;
}

std::optional<std::size_t> season::find_cost(std::string_view id) const {
    const auto place = place_of(kind::cost, id);
    return place == nowhere ? std::nullopt : std::optional{place};
}

std::optional<std::size_t> season::find_obligation(std::string_view id) const {
    const auto place = place_of(kind::obligation, id);
    return place == nowhere ? std::nullopt : std::optional{place};
}

const request_row* season::find_request(std::string_view id) const {
    const auto place = place_of(kind::request, id);
    return place == nowhere ? nullptr : &requests[place];
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

grower_place season::counts_as(grower_place grower) const {
    for (std::size_t steps = 0; steps < merges.size(); ++steps) { // a chain is no longer than all of them
        const auto found =
            std::find_if(merges.begin(), merges.end(), [&](const merge& each) { return each.grower == grower; });
        if (found == merges.end()) break;
        grower = found->into;
    }
    return grower;
}

const closing* season::closing_of(const quantity::period& period) const {
    for (const auto& each : closings)
        if (each.period == period) return &each;
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
    return {number_on("curvature_factor", on), number_on("area_weight_lb_per_ft2", on),
            number_on("density_g_per_cm3", on)};
}

void season::learn_day(entry_no first, day on) {
    if (days_of_entry.empty() || days_of_entry.back().on != on) days_of_entry.push_back({first, on});
}

std::optional<day> season::entered_on(entry_no entry) const {
    const auto after = std::upper_bound(days_of_entry.begin(), days_of_entry.end(), entry,
                                        [](entry_no a, const entered& b) { return a < b.first; });
    return after == days_of_entry.begin() ? std::nullopt : std::optional{std::prev(after)->on};
}

void season::add(const row& values, entry_no entry, entry_no order) {
    const auto& kind = info(values.which);
    kind.add(*this, values, {entry, order}, [&](std::size_t column) { refuse_undefined(values, column, entry); });
}

} // namespace tarewell::records
