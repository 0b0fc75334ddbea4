#include "figures/fair_audit.hpp"

#include "records/letters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::figures {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// True when it was entered after the latest word on what it confirms: what was corrected since is open again.
bool stands(const records::confirmation& of, records::entry_no latest) { return of.entry > latest; }

records::entry_no latest_of(const records::season& season, records::registration_place registration) {
    records::entry_no latest = 0;
    for (const auto index : season.at(registration).covers)
        latest = std::max(latest, season.covers[index].entry);
    for (const auto bundle : season.at(registration).bundles)
        latest = std::max(latest, season.at(bundle).entry);
    return latest;
}

/// What the office has seen to be right is no slip.
void take_confirmed(fair_audit& to, const audit_input& input, const records::season& season) {
    auto& slips = to.season;
    slips.ticket_seen.assign(input.rows.size(), 0);
    slips.claim_is_right.assign(to.registrations.size(), 0);
    for (const auto& confirmed : season.confirmations) {
        if (confirmed.confirms == records::confirmation::thing::registration) {
            const auto place = season.find_registration(confirmed.id);
            const auto of = std::find(to.registrations.begin(), to.registrations.end(), place);
            if (of != to.registrations.end() && stands(confirmed, latest_of(season, place)))
                slips.claim_is_right[static_cast<std::size_t>(of - to.registrations.begin())] = 1;
            continue;
        }
        for (std::size_t row = 0; row < input.rows.size(); ++row) {
            const auto& ticket = season.tickets[input.rows[row].ticket];
            if (ticket.id == confirmed.id && stands(confirmed, ticket.entry)) slips.ticket_seen[row] = 1;
        }
    }
}

/// A ratio from which on three digits say nothing any more.
constexpr double most_ratio = 99.5;

} // namespace

std::string structure_of(const records::season& season, records::registration_place registration) {
    std::set<std::string> said;
    for (const auto index : season.at(registration).covers)
        said.insert(records::small_letters(season.covers[index].structure));
    if (said.size() > 1) return "mixed";
    return said.empty() ? std::string{} : *said.begin();
}

std::string name_of(const cover_class& of) {
    return fmt::format("{}{}{}", records::name_of(of.basis), of.structure.empty() ? "" : ", ", of.structure);
}

fair_audit fair_input_of(const audit_input& input, const records::season& season) {
    fair_audit made;
    auto& weighed = made.season.weighed;
    weighed = input.season;
    std::map<std::pair<records::basis, std::string>, int> class_number;
    std::map<records::registration_place, int> registration_number;
    for (std::size_t b = 0; b < weighed.bundles.size(); ++b) {
        const auto registration = season.at(input.bundles[b]).registration;
        const auto basis = input.bases[at(weighed.bundles[b].basis)];
        const auto structure = structure_of(season, registration);
        const auto [of_class, fresh] =
            class_number.try_emplace({basis, structure}, static_cast<int>(made.classes.size()));
        if (fresh) made.classes.push_back({basis, structure});
        weighed.bundles[b].basis = of_class->second;
        const auto [number, first] =
            registration_number.try_emplace(registration, static_cast<int>(made.registrations.size()));
        if (first) made.registrations.push_back(registration);
        made.season.registration.push_back(number->second);
    }
    weighed.bases = static_cast<int>(made.classes.size());
    take_confirmed(made, input, season);
    return made;
}

fair_audit fair_audit_of(const audit_input& input, const records::season& season, double tolerance) {
    auto made = fair_input_of(input, season);
    audit::slip_options options;
    options.tolerance = tolerance;
    made.report = audit::find_slips(made.season, options);
    const auto unknown = std::find_if(input.growers.begin(), input.growers.end(), [&](records::grower_place grower) {
        return season.at(grower).id.text() == records::unknown_grower;
    });
    if (unknown != input.growers.end()) {
        auto& nobody = made.report.growers[static_cast<std::size_t>(unknown - input.growers.begin())];
        nobody.call = audit::fair_call::never_weighed;
        nobody.letter = false;
        nobody.bales = 0;
    }
    return made;
}

bool has_ratio(const fair_audit& of, int grower) {
    return of.report.status != audit::slip_status::too_few && of.report.growers[at(grower)].bales > 0;
}

std::string words_of(audit::fair_call call) {
    switch (call) {
    case audit::fair_call::runs_high:
        return "runs high";
    case audit::fair_call::runs_low:
        return "runs low";
    case audit::fair_call::fits:
        return "fits";
    case audit::fair_call::check_first:
        return "check first";
    case audit::fair_call::too_little_data:
    case audit::fair_call::never_weighed:
        break;
    }
    return "too little data";
}

std::string chance_in_words(double probability) {
    if (probability > 0.99) return "over 99 %";
    if (probability < 0.01) return "under 1 %";
    return fmt::format("{:.0f} %", 100.0 * probability);
}

std::string ratio_in_words(double ratio) {
    if (ratio >= most_ratio) return "over 100";
    return ratio >= 9.995 ? fmt::format("{:.1f}", ratio) : fmt::format("{:.2f}", std::max(ratio, 0.0));
}

std::string of_hundred(double ratio) {
    return ratio >= 9.995 ? std::string{"over 999"} : fmt::format("{:.0f}", 100.0 * std::max(ratio, 0.0));
}

std::string share_in_words(const audit::fair_grower& of, const std::string& unit) {
    return fmt::format("{0} {3} for each 100 {3} claimed (95 % interval {1} to {2})", of_hundred(of.ratio),
                       of_hundred(of.low), of_hundred(of.high), unit);
}

} // namespace tarewell::figures
