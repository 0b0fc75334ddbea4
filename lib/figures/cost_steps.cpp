#include "figures/cost_steps.hpp"

#include "quantity/fraction.hpp"
#include "reconcile/side_by_side.hpp"

#include <algorithm>
#include <map>

namespace tarewell::figures {
namespace {

using namespace records; // NOLINT
using quantity::fraction;

constexpr std::string_view not_said = "not said", indirect = "indirect costs", income = "program income as match";

/// One line being added up: its hours stay exact until all are there.
struct sum {
    money grant, match, in_kind;
    fraction hours{0, 1};
    weight collected;
};

/// What of the period's costs a further ton is taken to bring: steps, and what has no purpose; equipment apart.
struct growing {
    money steps, unsaid;
};

/// Every expense of the days, shown to the one line that it belongs to.
class adder {
  public:
    adder(const season& of, const report& on) : season_{of}, on_{on} {
        for (const auto& each : of.costs)
            if (on.basis.days.holds(each.date)) add(each);
        for (const auto& each : of.gifts)
            if (on.basis.days.holds(each.date)) add(each);
        for (const auto& each : of.incomes)
            if (on.basis.days.holds(each.date) && !each.earned && each.method == income_method::match &&
                each.cost.empty())
                purposes[std::string{income}].match += each.amount, no_site.match += each.amount;
        const auto claimed = std::get<money>(on.find("indirect_claimed")->value);
        if (claimed != money{}) purposes[std::string{indirect}].grant += claimed;
        no_site.grant += claimed;
    }

    std::map<std::string, sum> purposes, sites; ///< sites by id
    sum no_site;
    figures::growing growing;
    bool any_said = false, any_step = false;

  private:
    const season& season_;
    const report& on_;

    template <class Put> void put(const std::string& purpose, site_place site, const Put& into) {
        into(purposes[purpose.empty() ? std::string{not_said} : purpose]);
        into(site ? sites[season_.at(site).id.text()] : no_site);
    }
    void grow(const std::string& purpose, const std::string& category, money amount) {
        any_said = any_said || !purpose.empty();
        if (purpose == "run") return;
        any_step = any_step || !purpose.empty();
        if (category == "equipment") return;
        (purpose.empty() ? growing.unsaid : growing.steps) += amount;
    }
    void add(const cost& each) {
        if (each.fund == fund::grant && each.category == "indirect") return; // no direct cost: no figure counts it
        put(each.purpose, each.site,
            [&](sum& line) { (each.fund == fund::grant ? line.grant : line.match) += each.amount; });
        grow(each.purpose, each.category, each.amount);
    }
    void add(const inkind& each) {
        put(each.purpose, each.site, [&](sum& line) {
            line.in_kind += each.value;
            if (each.kind == "hours") line.hours = line.hours + quantity::fraction_of(each.quantity);
        });
        grow(each.purpose, each.category, each.value);
    }
};

cost_line line_of(std::string name, std::string heading, const sum& of, const fraction& tons) {
    cost_line made{std::move(name),
                   std::move(heading),
                   of.grant,
                   of.match,
                   of.in_kind,
                   quantity::nearest_double(of.hours),
                   of.collected,
                   {},
                   {}};
    if (tons.numerator <= 0) return made;
    made.per_ton = quantity::nearest_double(fraction{made.total().count(), 100} / tons);
    made.hours_per_ton = quantity::nearest_double(of.hours / tons);
    return made;
}

next_ton next_of(const adder& all, const fraction& tons) {
    if (tons.numerator <= 0) return {{}, {}, "no tons were diverted"};
    if (!all.any_step) return {{}, {}, "no cost or contribution says for which step it was (their column purpose)"};
    const auto a_ton = [&](money of) { return quantity::nearest_double(fraction{of.count(), 100} / tons); };
    return {a_ton(all.growing.steps), a_ton(all.growing.steps + all.growing.unsaid), {}};
}

std::vector<cost_line> purposes_of(adder& all, const fraction& tons) {
    std::vector<std::string> names{std::begin(purpose_words), std::end(purpose_words)};
    names.emplace_back(not_said);
    for (const auto last : {indirect, income})
        if (all.purposes.contains(std::string{last})) names.emplace_back(last);
    std::vector<cost_line> lines;
    for (const auto& name : names)
        lines.push_back(line_of(name, purpose_heading(name), all.purposes[name], tons));
    return lines;
}

std::vector<cost_line> sites_of(adder& all, const season& season, const reconcile::reckoning& reckoned,
                                quantity::span_of_days days) {
    const auto unit = season.the_award->unit;
    const auto tons_of = [&](const sum& of) { return quantity::short_tons_exact(of.collected, unit); };
    for (const auto& each : reconcile::reconcile_by(reconcile::grouping::site, season, reckoned, days))
        if (each.scale_weight != weight{} || all.sites.contains(each.id))
            all.sites[each.id].collected = each.scale_weight;
    std::vector<cost_line> lines;
    for (const auto& [id, line] : all.sites) {
        const auto place = season.find_site(id);
        lines.push_back(line_of(id, place ? season.at(place).name : id, line, tons_of(line)));
    }
    lines.push_back(line_of({}, "No site named", all.no_site, {0, 1}));
    return lines;
}

} // namespace

std::string purpose_heading(std::string_view purpose) {
    constexpr std::pair<std::string_view, std::string_view> known[] = {
        {"collect", "Collecting"},    {"bale", "Baling"},
        {"haul", "Hauling"},          {"process", "Processing"},
        {"run", "Program itself"},    {not_said, "Not said"},
        {indirect, "Indirect costs"}, {income, "Program income spent as match"}};
    for (const auto& [word, heading] : known)
        if (word == purpose) return std::string{heading};
    return std::string{purpose};
}

cost_steps cost_steps_of(const season& season, const reconcile::reckoning& reckoned, const report& of) {
    const auto tons =
        quantity::short_tons_exact(std::get<weight>(of.find("diverted_weight")->value), season.the_award->unit);
    adder all{season, of};
    cost_steps made;
    made.tons = quantity::nearest_double(tons);
    made.any_said = all.any_said;
    made.next_ton = next_of(all, tons);
    made.purposes = purposes_of(all, tons);
    made.sites = sites_of(all, season, reckoned, of.basis.days);
    sum whole;
    for (const auto& [name, each] : all.purposes) {
        whole.grant += each.grant;
        whole.match += each.match;
        whole.in_kind += each.in_kind;
        whole.hours = whole.hours + each.hours;
    }
    made.total = line_of("total", "Total", whole, tons);
    return made;
}

} // namespace tarewell::figures
