#include "figures/cover_stories.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

double real_of(const quantity::length& of) {
    return static_cast<double>(of.numerator) / static_cast<double>(of.denominator);
}

double real_of(const quantity::decimal& of) { return quantity::nearest_double(of); }

std::string size_in_words(const estimate::cover_size& size) {
    return fmt::format("{:.4g} ft x {:.4g} ft, {} {}", real_of(size.length), real_of(size.width), size.layers,
                       size.layers == 1 ? "layer" : "layers");
}

std::string shape_in_words(const estimate::cover_size& size, const estimate::constants& program) {
    const double factor = static_cast<double>(estimate::film_area_ft2(size, program)) /
                          (real_of(size.length) * real_of(size.width) * size.layers);
    if (size.rise)
        return fmt::format("x {:.3g} for the arc through its rise of {:.3g} ft", factor, real_of(*size.rise));
    return factor == 1.0 ? std::string{"flat film"} : fmt::format("x {:.3g}, the program's factor for a bow", factor);
}

std::string film_in_words(const estimate::cover_size& size, const estimate::constants& program) {
    if (!size.thickness)
        return fmt::format("the program's {:.3g} lb/ft2, since no thickness was given",
                           real_of(program.area_weight_lb_per_ft2));
    const auto clean = estimate::clean_area_weight_lb_per_ft2(*size.thickness, program.density_g_per_cm3);
    return fmt::format("{:.3g} mil film: {:.3g} lb/ft2", real_of(size.thickness->value), static_cast<double>(clean));
}

/// Whether a registration's bundles share what its covers come to, or carry estimates of their own.
std::string claimed_in_words(const reconcile::reckoning& reckoned, const records::registration& registration,
                             const std::string& worked_out) {
    const auto own = std::count_if(registration.bundles.begin(), registration.bundles.end(),
                                   [&](auto bundle) { return reckoned.at(bundle).claim.basis == records::basis::own; });
    const auto all = static_cast<std::ptrdiff_t>(registration.bundles.size());
    if (own == 0) return worked_out;
    if (own == all) return "each bundle's own estimate stands instead";
    return fmt::format("{}; {} of {} bundles have their own estimate", worked_out, own, all);
}

} // namespace

std::vector<cover_story> cover_stories_of(records::grower_place grower, const records::season& season,
                                          const reconcile::reckoning& reckoned, quantity::day last) {
    std::vector<cover_story> made;
    for (const auto& registration : season.registrations) {
        if (registration.grower != grower || registration.date > last) continue;
        const auto program = season.constants_on(registration.date);
        for (const auto index : registration.covers) {
            const auto& cover = season.covers[index];
            cover_story story{registration.id.text(), cover.id, cover.structure, {}, {}, {}, {}};
            std::string worked_out = "adds nothing: its size is not given";
            if (cover.size) {
                story.size = size_in_words(*cover.size);
                story.shape = shape_in_words(*cover.size, program);
                story.film = film_in_words(*cover.size, program);
                const auto unit = season.the_award->unit;
                worked_out =
                    fmt::format("{} {}", quantity::text_of(estimate::claimed_weight({&*cover.size, 1}, program, unit)),
                                quantity::name_of(unit));
            }
            story.claimed = claimed_in_words(reckoned, registration, worked_out);
            made.push_back(std::move(story));
        }
    }
    return made;
}

} // namespace tarewell::figures
