#include "reconcile/flag_maker.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <set>

namespace tarewell::reconcile {

using namespace records; // NOLINT

void flag_maker::raise(std::string_view code, std::string subject, day on, std::vector<row_ref> rows,
                       std::string sentence) {
    flags_.push_back({code, std::move(subject), std::move(sentence), on, std::move(rows)});
}

std::string flag_maker::shown(weight value) const {
    return fmt::format("{} {}", quantity::shortest_text({value.count(), 3}), quantity::name_of(s_.the_award->unit));
}

std::string flag_maker::named(bundle_place place) const {
    const auto& bundle = s_.at(place);
    return fmt::format("Bundle {} ({} of {})", bundle.id.text(), bundle.number, bundle.of);
}

void flag_maker::look_at_bundles() {
    for (const auto& registration : s_.registrations) {
        look_at_registration(registration);
        look_at_claim_by_count(registration);
    }
    look_at_claims();
    look_at_receipts();
    look_at_arrivals();
    look_at_pressed();
    look_at_hauls();
    look_at_films();
}

void flag_maker::look_at_registration(const registration& from) {
    if (from.bundles.empty()) return;
    const auto& first = s_.at(from.bundles.front());
    if (static_cast<std::int64_t>(from.bundles.size()) >= first.of) return;
    std::set<std::int64_t> numbers;
    std::vector<row_ref> rows;
    for (const auto place : from.bundles) {
        numbers.insert(s_.at(place).number);
        rows.push_back({kind::bundle, s_.at(place).entry});
    }
    std::vector<std::int64_t> missing;
    constexpr std::size_t enough = 10;
    for (std::int64_t number = 1; number <= first.of && missing.size() < enough; ++number)
        if (!numbers.contains(number)) missing.push_back(number);
    const auto more = first.of - static_cast<std::int64_t>(numbers.size() + missing.size());
    raise("number-missing", from.id.text(), from.date, std::move(rows),
          fmt::format("Registration {} says {} bundles and lists {}: {} {}{} missing.", from.id.text(), first.of,
                      from.bundles.size(), missing.size() == 1 ? "number" : "numbers", fmt::join(missing, ", "),
                      more > 0              ? fmt::format(" and {} more are", more)
                      : missing.size() == 1 ? " is"
                                            : " are"));
}

double flag_maker::number(std::string_view setting, day on) const {
    return quantity::nearest_double(s_.number_on(setting, on));
}

/// A claim that no bundle weighs: layers counted twice, a dimension in inches, a unit mistaken.
void flag_maker::look_at_claims() {
    for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
        const auto on = s_.at(s_.bundles[i].registration).date;
        const auto claim = r_.bundles[i].claim.estimate;
        const auto most =
            quantity::weight_from(s_.number_on("bundle_maximum_lb", on), quantity::weight_unit::lb, s_.the_award->unit);
        const auto& from = s_.at(s_.bundles[i].registration);
        const bool shares_on = std::ssize(from.bundles) < s_.bundles[i].of && r_.bundles[i].claim.basis != basis::own;
        if (claim <= most || shares_on) continue; // bundles to come take their part of it: "number-missing" asks
        const bool twice = claim.count() > 2 * most.count();
        raise(twice ? "claim-over-twice-maximum" : "claim-over-maximum", s_.bundles[i].id.text(), on,
              {{kind::bundle, s_.bundles[i].entry}},
              fmt::format("{} claims {}; the maximum weight of a bundle is {}.", named(bundle_place{i}), shown(claim),
                          shown(most)));
    }
}

/// Nobody measured anything: the claim is as good as the guess of a bundle's weight.
void flag_maker::look_at_claim_by_count(const registration& from) {
    if (from.bundles.empty() ||
        std::any_of(from.covers.begin(), from.covers.end(), [&](std::size_t cover) { return s_.covers[cover].size; }))
        return;
    const auto usual =
        quantity::weight_from(s_.number_on("bundle_aim_lb", from.date), quantity::weight_unit::lb, s_.the_award->unit);
    std::vector<row_ref> rows;
    for (const auto place : from.bundles) {
        if (s_.at(place).own_estimate != usual) return;
        rows.push_back({kind::bundle, s_.at(place).entry});
    }
    raise("claimed-by-count", from.id.text(), from.date, std::move(rows),
          fmt::format("Registration {} has no sizes: {} the usual {}; ask the grower for the covers' length, width and "
                      "layers.",
                      from.id.text(), from.bundles.size() == 1 ? "its bundle claims" : "each of its bundles claims",
                      shown(usual)));
}

void flag_maker::look_at_receipts() {
    for (const auto& receipt : s_.receipts) {
        const auto& registration = s_.at(s_.at(receipt.bundle).registration);
        const std::vector<row_ref> row{{kind::receipt, receipt.entry}};
        if (receipt.site != registration.site)
            raise("other-site", receipt.id, receipt.date, row,
                  fmt::format("{} was registered for site {} and came to {}.", named(receipt.bundle),
                              s_.at(registration.site).id.text(), s_.at(receipt.site).id.text()));
        const bool without_label = s_.at(registration.grower).id.text() == unknown_grower;
        if (without_label)
            raise("no-label", receipt.id, receipt.date, row,
                  fmt::format("{} was found without a label; when its grower is known, correct its "
                              "registration {}.",
                              named(receipt.bundle), registration.id.text()));
        if (!without_label && receipt.date < registration.date)
            raise("received-before-registered", receipt.id, receipt.date, row,
                  fmt::format("{} was received on {}, and its registration {} is of {}.", named(receipt.bundle),
                              quantity::text_of(receipt.date), registration.id.text(),
                              quantity::text_of(registration.date)));
    }
}

/// Bundles that were not handed in though their days for it are over by the latest paper.
void flag_maker::look_at_arrivals() {
    std::vector<bool> received(s_.bundles.size());
    for (const auto& receipt : s_.receipts)
        received[receipt.bundle.index()] = true;
    const auto latest = latest_paper();
    for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
        if (received[i] || r_.bundles[i].bale) continue;
        const auto registered = s_.at(s_.bundles[i].registration).date;
        const auto days = std::stoll(s_.setting_on("handing_in_days", registered));
        if (latest > registered + date::days{days})
            raise("never-received", s_.bundles[i].id.text(), registered, {{kind::bundle, s_.bundles[i].entry}},
                  fmt::format("{} was registered on {} and has no receipt after {} days.", named(bundle_place{i}),
                              quantity::text_of(registered), days));
    }
}

void flag_maker::look_at_pressed() {
    for (const auto& pressed : s_.bale_rows) {
        const auto& accepting = r_.at(pressed.bundle).accepting_receipt;
        const auto& bale = s_.at(pressed.bale);
        if (!accepting)
            raise("baled-not-received", s_.at(pressed.bundle).id.text(), bale.date, {{kind::bale, pressed.entry}},
                  fmt::format("{} is in bale {} and was never accepted.", named(pressed.bundle), bale.id.text()));
        else if (s_.receipts[*accepting].date > bale.date)
            raise("baled-before-received", s_.at(pressed.bundle).id.text(), bale.date,
                  {{kind::bale, pressed.entry}, {kind::receipt, s_.receipts[*accepting].entry}},
                  fmt::format("{} is in bale {} of {} and was accepted on {}.", named(pressed.bundle), bale.id.text(),
                              quantity::text_of(bale.date), quantity::text_of(s_.receipts[*accepting].date)));
    }
}

void flag_maker::look_at_hauls() {
    std::vector<std::vector<const receipt*>> receipts(s_.hauls.empty() ? 0 : s_.bundles.size());
    if (!s_.hauls.empty())
        for (const auto& each : s_.receipts)
            receipts[each.bundle.index()].push_back(&each);
    for (const auto& loaded : s_.hauls) {
        const auto& bale = r_.at(loaded.bundle).bale;
        const auto& at_place = receipts[loaded.bundle.index()];
        const auto& rejections = r_.at(loaded.bundle).rejections;
        const bool unloaded =
            (bale && s_.at(bale).site == loaded.to) || (!rejections.empty() && rejections.back().on >= loaded.date) ||
            std::any_of(at_place.begin(), at_place.end(),
                        [&](const receipt* each) { return each->site == loaded.to && each->date >= loaded.date; });
        if (unloaded) continue;
        const auto& accepting = r_.at(loaded.bundle).accepting_receipt;
        const auto received =
            accepting ? fmt::format(", received at {} on {},", s_.at(s_.receipts[*accepting].site).id.text(),
                                    quantity::text_of(s_.receipts[*accepting].date))
                      : std::string{};
        raise("not-unloaded", s_.at(loaded.bundle).id.text(), loaded.date, {{kind::haul, loaded.entry}},
              fmt::format("{}{} was loaded at site {} on haul {} of {} and has no receipt or bale at {} since.",
                          named(loaded.bundle), received, s_.at(loaded.from).id.text(), loaded.haul,
                          quantity::text_of(loaded.date), s_.at(loaded.to).id.text()));
    }
}

void flag_maker::look_at_films() {
    for (const auto& cover : s_.covers) {
        const auto& registration = s_.at(cover.registration);
        const auto list = s_.setting_on("accepted_films", registration.date);
        if (list.empty() || cover.film.empty()) continue;
        bool listed = false;
        for (std::size_t at = 0; at <= list.size();) {
            const auto end = std::min(list.find(';', at), list.size());
            listed = listed || list.substr(at, end - at) == cover.film;
            at = end + 1;
        }
        if (!listed)
            raise("film-off-list", registration.id.text() + " " + cover.id, registration.date,
                  {{kind::cover, cover.entry}},
                  fmt::format("Cover {} of registration {} is {} film, which is not on the program's list.", cover.id,
                              registration.id.text(), cover.film));
    }
}

void flag_maker::look_at_bales() {
    for (std::size_t i = 0; i < s_.bales.size(); ++i)
        look_at_bale(i);
    for (std::size_t i = 0; i < s_.bundles.size(); ++i) {
        const auto& spot = r_.bundles[i].spot_ticket;
        if (!spot) continue;
        const auto& ticket = s_.tickets[*spot];
        look_at_estimate(s_.bundles[i].id.text(), named(bundle_place{i}), ticket.net_weight,
                         r_.bundles[i].claim.estimate, ticket.date, {{kind::ticket, ticket.entry}});
    }
}

void flag_maker::look_at_estimate(std::string subject, const std::string& thing, weight net, weight claim, day on,
                                  std::vector<row_ref> rows) {
    const auto percent = s_.number_on("estimate_tolerance_percent", on);
    const auto difference = net > claim ? (net - claim).count() : (claim - net).count();
    if (!quantity::is_over_percent(difference, claim.count(), percent)) return;
    const auto how = claim.count() == 0 ? std::string{"has no estimate to hold it against"}
                                        : fmt::format("is {:.0f} % {} than its estimate",
                                                      100.0 * quantity::nearest_double(difference, claim.count()),
                                                      net > claim ? "heavier" : "lighter");
    raise("estimate-off", std::move(subject), on, std::move(rows),
          fmt::format("{} weighs {} and {} ({}).", thing, shown(net), how, shown(claim)));
}

void flag_maker::look_at_bale(std::size_t index) {
    const auto& bale = s_.bales[index];
    const auto& known = r_.bales[index];
    const auto& id = bale.id.text();
    const row_ref row{kind::bale, bale.first_row};
    if (known.shipment && s_.at(known.shipment).date < bale.date)
        raise("shipped-before-made", id, bale.date, {row},
              fmt::format("Bale {} was made on {} and shipped on {}.", id, quantity::text_of(bale.date),
                          quantity::text_of(s_.at(known.shipment).date)));
    if (!known.weighed) {
        raise("not-weighed", id, bale.date, {row}, fmt::format("Bale {} has no weight.", id));
        return;
    }
    const auto& ticket = s_.tickets[known.weighed->ticket];
    const std::vector<row_ref> rows{{kind::ticket, ticket.entry}};
    if (ticket.date < bale.date)
        raise("weighed-before-made", id, ticket.date, rows,
              fmt::format("Bale {} was made on {} and weighed on {}.", id, quantity::text_of(bale.date),
                          quantity::text_of(ticket.date)));
    look_at_estimate(id, "Bale " + id, known.weighed->net, known.estimate, ticket.date, rows);
    look_at_part_of_claim(index);
    look_at_density(index);
}

void flag_maker::look_at_part_of_claim(std::size_t index) {
    const auto& known = r_.bales[index];
    const auto& ticket = s_.tickets[known.weighed->ticket];
    const auto least = number("net_least_of_claim", ticket.date), most = number("net_most_of_claim", ticket.date);
    const auto claim = known.estimate.count();
    const auto part = claim > 0 ? quantity::nearest_double(known.weighed->net.count(), claim) : most + 1;
    if (part >= least && part <= most) return;
    const auto& id = s_.bales[index].id.text();
    raise("net-far-from-claim", id, ticket.date, {{kind::ticket, ticket.entry}},
          fmt::format("Bale {} weighs {}{}: look at ticket {}, and at the bundles in the bale.", id,
                      shown(known.weighed->net),
                      claim > 0 ? fmt::format(", {:.2f} times its claim of {}, outside {:g} to {:g} times", part,
                                              shown(known.estimate), least, most)
                                : std::string{" and claims nothing"},
                      ticket.id));
}

void flag_maker::look_at_density(std::size_t index) {
    const auto& id = s_.bales[index].id.text();
    const auto& weighed = *r_.bales[index].weighed;
    const auto& ticket = s_.tickets[weighed.ticket];
    const double volume = number("bale_volume_ft3", ticket.date);
    if (volume <= 0) return;
    constexpr double lb_per_ft3_of_water = 62.428; // 1 g/cm3; from memory
    const double density = quantity::short_tons(weighed.net, s_.the_award->unit) * 2000 / volume;
    const bool solid = density > number("density_g_per_cm3", ticket.date) * lb_per_ft3_of_water;
    if (!solid && density >= number("bale_density_low_lb_per_ft3", ticket.date)) return;
    raise(solid ? "density-impossible" : "density-low", id, ticket.date, {{kind::ticket, ticket.entry}},
          fmt::format("Bale {} weighs {}: {:.1f} lb/ft3 in a box of {:g} ft3.{}", id, shown(weighed.net), density,
                      volume, solid ? " Look at the ticket, or set bale_volume_ft3 to your baler's box." : ""));
}

} // namespace tarewell::reconcile
