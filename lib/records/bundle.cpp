#include "records/bundle.hpp"

#include "records/claims.hpp"
#include "records/fields.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <unordered_map>

namespace tarewell::records {
namespace {

using a = fields_of<bundle>;
constexpr field<bundle> fields[] = {
    a::id<&bundle::id>("bundle").required(),
    a::names<&bundle::registration>("registration").required().together().looked_at(),
    a::number<&bundle::number>("number", column_type::count).required(),
    a::number<&bundle::of>("of", column_type::count).required(),
    a::unkept("estimate", column_type::nonnegative),
    a::unkept_word<unit_words>("unit"),
};
constexpr whole_field<bundle> numbers[] = {
    a::weight<&bundle::own_estimate>("estimate_thousandths", "estimate", "unit"),
};

/// Bundles for which their registration's estimate leaves nothing. Of a registration with older bundles without an
/// estimate, a new one with its own is to blame; else the one without.
std::vector<late_complaint> check_shares(const season& with, std::size_t first_new) {
    std::vector<late_complaint> found;
    std::unordered_map<std::size_t, bool> known;
    const auto nothing_left = [&](registration_place in) {
        const auto [at, fresh] = known.try_emplace(in.index(), false);
        if (fresh) at->second = leaves_nothing(with, in);
        return at->second;
    };
    const auto is_older_without = [&](bundle_place other) {
        return !with.at(other).own_estimate && other.index() < first_new;
    };
    for (auto place = first_new; place < with.bundles.size(); ++place) {
        const auto& bundle = with.bundles[place];
        const auto& registration = with.at(bundle.registration);
        if (!nothing_left(bundle.registration)) continue;
        const auto& all = registration.bundles;
        if (bundle.own_estimate && std::none_of(all.begin(), all.end(), is_older_without)) continue;
        found.push_back({place, "estimate",
                         bundle.own_estimate
                             ? fmt::format("the estimates of registration {} leave nothing for its bundles without one",
                                           registration.id.text())
                             : fmt::format("is empty, and the covers of registration {} leave nothing for it",
                                           registration.id.text()),
                         "give the bundle's own estimate and unit, or the covers' sizes"});
    }
    return found;
}

constexpr kind_info made() {
    auto info = kind_made<bundle, fields, numbers>({kind::bundle, "bundle", "bundles", "bundle"});
    info.check_all = &check_shares;
    return info;
}

} // namespace

constinit const kind_info bundle_kind = made();
constinit const coded_kind bundle_coded = coded_made<bundle, fields, numbers>(kind::bundle);

void check(const bundle& made, const season& before, complaints& say) {
    say.together("estimate", "unit");
    if (made.number > made.of)
        say.say("number", fmt::format("{} is more than of, {}", made.number, made.of), "number runs from 1 to of");
    const auto& others = before.at(made.registration).bundles;
    if (!others.empty() && before.at(others.front()).of != made.of)
        say.say("of",
                fmt::format("{} differs from {} in an earlier row of registration {}", made.of,
                            before.at(others.front()).of, say.written("registration")),
                "every bundle of a registration says the same number of bundles");
    if (const auto twin = before.find_bundle(made.registration, made.number))
        say.say("number",
                fmt::format("bundle {} is number {} of registration {} already", quoted(before.at(twin).id.text()),
                            made.number, say.written("registration")),
                "each number stands once in a registration");
}

void admit(bundle&& made, season& to) {
    const bundle_place place{to.bundles.size()};
    to.learn_label(made.registration, made.number, place);
    auto& others = to.registrations[made.registration.index()].bundles;
    if (others.empty()) others.reserve(static_cast<std::size_t>(std::min<std::int64_t>(made.of, 8)));
    others.push_back(place);
    to.keep(kind::bundle, to.bundles, std::move(made));
}

} // namespace tarewell::records
