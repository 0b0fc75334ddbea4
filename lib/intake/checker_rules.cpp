// The rules of each kind of record, apart from ids that nothing defines.
#include "intake/checker.hpp"
#include "intake/checker_texts.hpp"
#include "ledger/settings.hpp"

#include <limits>

namespace tarewell::intake {

using namespace ledger; // NOLINT: the rules read as the trade's sentences

namespace {

bool together(std::string_view first, std::string_view first_value, std::string_view second,
              std::string_view second_value, const complaint& complain) {
    if (first_value.empty() == second_value.empty()) return true;
    const auto missing = first_value.empty() ? first : second;
    const auto other = first_value.empty() ? second : first;
    complain(missing, fmt::format("is empty although {} is given", other),
             fmt::format("{} and {} come together", first, second));
    return false;
}

} // namespace

bool checker::check_award(const row& v, const complaint& complain) const {
    bool good = true;
    if (season_.the_award && season_.the_award->id != v[0]) {
        complain("award", fmt::format("the ledger already holds award {}", quoted(season_.the_award->id)),
                 "keep one ledger for each award");
        good = false;
    }
    if (v[5] < v[4]) {
        complain("ends", fmt::format("{} is before the award begins", v[5]), "an award ends after it begins");
        good = false;
    }
    if (!v[9].empty() && v[10].empty()) {
        complain("match_base", "is empty although match_percent is given",
                 "say what the percent is of: total or grant");
        good = false;
    }
    const auto hundred = quantity::decimal_of("100");
    if (!v[9].empty() && v[10] == "total" &&
        quantity::wide{quantity::decimal_of(v[9]).mantissa} >=
            hundred.mantissa * quantity::power_of_ten(quantity::decimal_of(v[9]).scale)) {
        complain("match_percent", quoted(v[9]) + " percent of the total leaves nothing for the grant",
                 "a match on the total is below 100");
        good = false;
    }
    return good;
}

bool checker::check_grower(const row& v, const complaint& complain) const {
    if (v[0] == unknown_grower || v[4] == season_.the_award->region) return true;
    complain("region", fmt::format("{} is not the award's region", quoted(v[4])),
             fmt::format("the program serves growers of {}", quoted(season_.the_award->region)));
    return false;
}

bool checker::check_scale(const row& v, const complaint& complain) const {
    if (v[6].empty() || v[7].empty() || v[6] <= v[7]) return true;
    complain("certified_until", fmt::format("{} is before certified_on", v[7]), "a certificate ends after it begins");
    return false;
}

weight checker::claim_of_cover(const row& v) const {
    const std::array size{size_of_cover(v)};
    return estimate::claimed_weight(size, season_.constants_on(quantity::day_of(v[1])), season_.the_award->unit);
}

bool checker::check_cover(const row& v, const complaint& complain) const {
    bool good = true;
    const bool any = !v[6].empty() || !v[7].empty() || !v[9].empty();
    for (const std::size_t i : {6U, 7U, 9U})
        if (any && v[i].empty()) {
            complain(info(kind::cover).columns[i].name, "is empty although the cover has other sizes",
                     "give length_ft, width_ft and layers, or none of them");
            good = false;
        }
    if (any && good && !is_within([&] { return claim_of_cover(v).count(); }, most_thousandths)) {
        complain("length_ft", "the cover's film would weigh more than 999,999,999, which passes what a ledger can hold",
                 "mend the cover's sizes");
        good = false;
    }
    const auto place = season_.find_registration(v[0]);
    if (!place) return good;
    const auto& before = season_.at(place);
    const auto record = fmt::format("registration {}", v[0]);
    good &= agrees("date", v[1], quantity::text_of(before.date), record, complain);
    good &= agrees("grower", v[2], season_.at(before.grower).id.text(), record, complain);
    good &= agrees("site", v[3], season_.at(before.site).id.text(), record, complain);
    return good;
}

bool checker::check_bundle(const row& v, const complaint& complain) const {
    bool good = together("estimate", v[4], "unit", v[5], complain);
    const auto number = whole(v[2]);
    const auto of = whole(v[3]);
    if (number > of) {
        complain("number", fmt::format("{} is more than of, {}", number, of), "number runs from 1 to of");
        good = false;
    }
    const auto in = season_.find_registration(v[1]);
    const auto& others = season_.at(in).bundles;
    if (!others.empty() && season_.at(others.front()).of != of) {
        complain("of",
                 fmt::format("{} differs from {} in an earlier row of registration {}", of,
                             season_.at(others.front()).of, v[1]),
                 "every bundle of a registration says the same number of bundles");
        good = false;
    }
    if (const auto twin = season_.find_bundle(in, number)) {
        complain("number",
                 fmt::format("bundle {} is number {} of registration {} already", quoted(season_.at(twin).id.text()),
                             number, v[1]),
                 "each number stands once in a registration");
        good = false;
    }
    return good;
}

bundle_place checker::bundle_named(const row& v) const {
    if (!v[3].empty()) return season_.find_bundle(v[3]);
    const auto in = season_.find_registration(v[4]);
    return in ? season_.find_bundle(in, whole(v[5])) : bundle_place{};
}

bool checker::check_receipt(const row& v, const complaint& complain, bool& excused) const {
    if (v[3].empty() && v[4].empty() && v[5].empty()) {
        complain("bundle", "is empty, and so are registration and number",
                 "name the bundle, or the registration and number on its label");
        return false;
    }
    if (v[3].empty() || (!v[5].empty() && v[4].empty())) {
        const bool registration_missing = v[4].empty();
        if (registration_missing || v[5].empty()) {
            complain(registration_missing ? "registration" : "number", "is empty although its partner is given",
                     "give both registration and number, or the bundle");
            return false;
        }
    }
    const auto bundle = bundle_named(v);
    if (!bundle) {
        // The bundle's own row may have been refused; its label can't be known then.
        if (excuses_any(kind::bundle)) {
            excused = true;
            return true;
        }
        complain("number", fmt::format("registration {} has no bundle number {}", quoted(v[4]), v[5]),
                 "mend the label's registration or number, or take in its row of bundles.csv first");
        return false;
    }
    const auto& named = season_.at(bundle);
    if (!v[3].empty() && !v[4].empty() && season_.at(named.registration).id.text() != v[4]) {
        complain("registration",
                 fmt::format("bundle {} is of registration {}, not {}", quoted(v[3]),
                             quoted(season_.at(named.registration).id.text()), quoted(v[4])),
                 "name the bundle or its label; where both are given they agree");
        return false;
    }
    if (!v[3].empty() && !v[5].empty() && named.number != whole(v[5])) {
        complain("number", fmt::format("bundle {} is number {}, not {}", quoted(v[3]), named.number, v[5]),
                 "name the bundle or its label; where both are given they agree");
        return false;
    }
    if (v[6] == "accepted" && accepted_[bundle.index()]) {
        complain(v[3].empty() ? "number" : "bundle",
                 fmt::format("bundle {} was accepted before", quoted(named.id.text())),
                 "a bundle is accepted once; mend the id, or correct the earlier receipt");
        return false;
    }
    return true;
}

bool checker::check_haul(const row& v, const complaint& complain) const {
    const auto found = first_haul_row_.find(std::string{v[0]});
    if (found == first_haul_row_.end()) return true;
    const auto& before = season_.hauls[found->second];
    const auto record = fmt::format("haul {}", v[0]);
    bool good = agrees("date", v[1], quantity::text_of(before.date), record, complain);
    good &= agrees("from", v[2], season_.at(before.from).id.text(), record, complain);
    good &= agrees("to", v[3], season_.at(before.to).id.text(), record, complain);
    good &= agrees("driver", v[5], before.driver, record, complain);
    return good;
}

bool checker::check_bale(const row& v, const complaint& complain) const {
    bool good = true;
    const auto bundle = season_.find_bundle(v[3]);
    if (const auto other = bale_of_[bundle.index()]) {
        complain("bundle",
                 fmt::format("bundle {} is in bale {} already", quoted(v[3]), quoted(season_.at(other).id.text())),
                 "a bundle is in one bale; mend the id, or void the other row");
        good = false;
    }
    const auto place = season_.find_bale(v[0]);
    if (!place) return good;
    const auto& before = season_.at(place);
    const auto record = fmt::format("bale {}", v[0]);
    good &= agrees("date", v[1], quantity::text_of(before.date), record, complain);
    good &= agrees("site", v[2], season_.at(before.site).id.text(), record, complain);
    return good;
}

bool checker::check_reject(const row& v, const complaint& complain) const {
    bool good = together("weight", v[5], "unit", v[6], complain);
    if (v[3].empty() == v[4].empty()) {
        complain(v[3].empty() ? "bundle" : "bale",
                 v[3].empty() ? "is empty, and so is bale" : "is given, and so is bundle",
                 "a reject names a bundle or a bale");
        good = false;
    }
    return good;
}

bool checker::check_shipment(const row& v, const complaint& complain) const {
    bool good = true;
    const auto bale = season_.find_bale(v[3]);
    if (const auto other = shipment_of_[bale.index()]) {
        complain("bale",
                 fmt::format("bale {} is in shipment {} already", quoted(v[3]), quoted(season_.at(other).id.text())),
                 "a bale is in one shipment; mend the id, or void the other row");
        good = false;
    }
    const auto place = season_.find_shipment(v[0]);
    if (!place) return good;
    const auto& before = season_.at(place);
    const auto record = fmt::format("shipment {}", v[0]);
    good &= agrees("date", v[1], quantity::text_of(before.date), record, complain);
    good &= agrees("processor", v[2], before.processor, record, complain);
    good &= agrees("carrier", v[4], before.carrier, record, complain);
    good &= agrees("bill_of_lading", v[5], before.bill_of_lading, record, complain);
    return good;
}

bool checker::check_ticket(const row& v, const complaint& complain, bool& excused) const {
    const auto named = v[3] == "bundle" ? kind::bundle : v[3] == "bale" ? kind::bale : kind::shipment;
    bool good = true;
    if (!season_.defines(named, v[4])) {
        if (is_excused(named, v[4])) {
            excused = true;
        } else {
            complain("subject", fmt::format("no {} {} is defined", describe(named), quoted(v[4])),
                     fmt::format("take in its row of {}.csv first, or mend the id or weighs", info(named).file));
            good = false;
        }
    }
    if (v[5].empty() || v[6].empty() || v[11] == "yes") return good;
    const auto scaled = [](std::string_view text) {
        const auto value = quantity::decimal_of(text);
        return quantity::wide{value.mantissa} * quantity::power_of_ten(9 - value.scale);
    };
    const auto difference = scaled(v[5]) - scaled(v[6]);
    if (difference == scaled(v[7])) return good;
    const auto shown = quantity::shortest_text({static_cast<std::int64_t>(difference), 9});
    complain("net", fmt::format("{} is not gross {} less tare {}, which is {}", v[7], v[5], v[6], shown),
             "mend the number, or write yes in as_printed if the ticket prints it so");
    return false;
}

bool checker::check_amendment(const row& v, const complaint& complain) const {
    season terms_alone;
    terms_alone.the_award = season_.the_award;
    terms_alone.amendments = season_.amendments;
    constexpr auto last = std::numeric_limits<entry_no>::max();
    terms_alone.add(v, last, last);
    // Its own date, and those of later ones that build on it.
    for (const auto& each : terms_alone.amendments) {
        const auto terms = terms_alone.terms_on(each.date);
        if (terms.ends < terms.begins) {
            complain("ends", fmt::format("{} is before the award begins", v[2]), "an award ends after it begins");
            return false;
        }
        if (!terms.match_percent) continue;
        if (terms.base == match_base::none) {
            complain("match_base", "is empty although match_percent is given, and the award has none",
                     "say what the percent is of: total or grant");
            return false;
        }
        const auto hundred = 100 * quantity::power_of_ten(terms.match_percent->scale);
        if (terms.base == match_base::total && terms.match_percent->mantissa >= hundred) {
            complain("match_percent",
                     fmt::format("{} percent of the total leaves nothing for the grant",
                                 quantity::shortest_text(*terms.match_percent)),
                     "a match on the total is below 100");
            return false;
        }
    }
    return true;
}

bool checker::check_setting(const row& v, const complaint& complain) const {
    const auto* known = find_setting(v[0]);
    if (known == nullptr) {
        complain("setting", fmt::format("no setting is called {}", quoted(v[0])), "see: tarewell settings");
        return false;
    }
    if (v[0] == "report_due_dates" && !read_due_dates(v[2])) {
        complain("value", fmt::format("{} is no list of dates in the year", quoted(v[2])),
                 "months and days such as 04-30; 07-31; 10-31; 01-31");
        return false;
    }
    if (known->type == setting_type::list) return true;
    const auto reading = quantity::read_decimal(v[2]);
    const bool number = reading.fault == quantity::decimal_fault::none;
    const bool good = number && (known->type != setting_type::positive || reading.value.mantissa > 0) &&
                      (known->type != setting_type::amount || reading.value.scale <= 2) &&
                      (known->type != setting_type::whole || reading.value.scale == 0);
    if (!good)
        complain("value", fmt::format("{} is no value of {}", quoted(v[2]), v[0]),
                 fmt::format("a number such as {}", known->default_value));
    return good;
}

} // namespace tarewell::intake
