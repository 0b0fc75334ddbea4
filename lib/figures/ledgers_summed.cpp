#include "figures/ledgers_summed.hpp"

#include "figures/lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <stdexcept>
#include <utility>

namespace tarewell::figures {
namespace {

/// Ledgers together have no rows and no one award's terms.
struct no_season {
    records::season season;
    reconcile::reckoning reckoned;
    no_season() { season.the_award.emplace(); }
};

/// Figures that are sums, from which a rate's line is reckoned.
class sums_source : no_season, public source {
  public:
    explicit sums_source(fraction goal) : source{ground{season, reckoned, {}}}, goal_{goal} {}
    using source::know;

    std::int64_t total(const counted&) const override { throw std::logic_error("a rate over ledgers has no rows"); }
    quantity::money indirect_through(quantity::day) const override {
        throw std::logic_error("a rate over ledgers has no rows");
    }
    fraction goal_tons() const override { return goal_; }

  private:
    fraction goal_;
};

/// Adds doubles and rounds once (Shewchuk 1997, "Adaptive Precision Floating-Point Arithmetic", section 2.4; from
/// memory): the parts kept never overlap.
class double_sum {
  public:
    void add(double next) {
        std::vector<double> kept;
        for (auto part : parts_) {
            if (std::abs(next) < std::abs(part)) std::swap(next, part);
            const double high = next + part, low = part - (high - next);
            if (low != 0) kept.push_back(low);
            next = high;
        }
        kept.push_back(next);
        parts_ = std::move(kept);
    }
    [[nodiscard]] double value() const {
        double all = 0;
        for (const auto part : parts_)
            all += part;
        return all;
    }

  private:
    std::vector<double> parts_; ///< from the smallest on
};

std::string why_undefined(const line& of, const std::vector<const summand*>& ledgers) {
    std::vector<std::pair<std::string, std::string>> reasons; ///< why, and in which ledgers
    for (const auto* each : ledgers) {
        const auto& own = each->figures.at(of.name);
        if (own.is) continue;
        const auto known = std::find_if(reasons.begin(), reasons.end(),
                                        [&](const auto& reason) { return reason.first == own.why_not; });
        if (known == reasons.end())
            reasons.emplace_back(own.why_not, each->label);
        else
            known->second += ", " + each->label;
    }
    std::string text;
    for (const auto& [why, labels] : reasons)
        text += fmt::format("{}{}: {}", text.empty() ? "" : "; ", labels, why);
    return text;
}

class adder {
  public:
    adder(const std::vector<const summand*>& ledgers, quantity::weight_unit in) : ledgers_{ledgers}, in_{in} {}

    [[nodiscard]] fraction goal() const {
        fraction all{0, 1};
        for (const auto* each : ledgers_)
            all = all + quantity::fraction_of(each->goal_tons);
        return all;
    }
    /// Undefined where a ledger's is.
    [[nodiscard]] number amount(const line& of) const {
        if (auto why = why_undefined(of, ledgers_); !why.empty()) return {{}, std::move(why)};
        number all{fraction{0, 1}, {}};
        for (const auto* each : ledgers_)
            all.is = *all.is + part_of(of, *each);
        return all;
    }
    /// What no exact fraction holds for many ledgers: each as it is shown.
    [[nodiscard]] value shown_sum(const line& of) const {
        double_sum all;
        for (const auto* each : ledgers_)
            all.add(quantity::nearest_double(*each->figures.at(of.name).is));
        return all.value();
    }

  private:
    const std::vector<const summand*>& ledgers_;
    quantity::weight_unit in_;

    [[nodiscard]] fraction part_of(const line& of, const summand& ledger) const {
        const auto& own = ledger.figures.at(of.name);
        if (of.unit != unit::heft) return *own.is;
        return {converted(std::get<weight>(value_of(own, of.unit)), ledger.unit, in_).count(), 1000};
    }
};

} // namespace

ledgers_summed sum_of(const std::vector<const summand*>& ledgers, quantity::weight_unit in,
                      const quantity::period& period) {
    const adder add{ledgers, in};
    const auto goal = add.goal();
    sums_source from{goal};
    ledgers_summed made{{}, quantity::nearest_double(goal)};
    const auto said = [&](const line& of) {
        return figure_summed{std::string{of.name},        {}, name_of(of.unit, in),
                             said_of(period, of.meaning), {}, of.is->is_rate()};
    };
    const auto summed_as_shown = [](const line& of) { return of.unit == unit::tons && of.is->multiplies(); };
    for (const auto& each : all_lines())
        if (each.is != nullptr && !each.is->is_rate() && !summed_as_shown(each)) from.know(each.name, add.amount(each));
    for (const auto& each : all_lines()) {
        if (each.is == nullptr) continue;
        auto figure = said(each);
        if (summed_as_shown(each)) {
            figure.reason = why_undefined(each, ledgers);
            if (figure.reason.empty()) figure.value = add.shown_sum(each);
        } else {
            const auto& number = from.figure(each.name);
            figure.value = value_of(number, each.unit);
            figure.reason = number.why_not;
        }
        figure.reason = said_of(period, figure.reason);
        made.figures.push_back(std::move(figure));
    }
    return made;
}

weight converted(weight of, quantity::weight_unit from, quantity::weight_unit to) {
    constexpr quantity::wide e8 = 100'000'000;
    if (from == to) return of;
    return weight{to == quantity::weight_unit::kg
                      ? quantity::half_up(of.count() * quantity::wide{quantity::kg_per_lb_e8}, e8)
                      : quantity::half_up(of.count() * e8, quantity::kg_per_lb_e8)};
}

std::optional<std::string> formula_of_rate(std::string_view figure) {
    if (!line_named(figure).is->is_rate()) return std::nullopt;
    const no_season none;
    return formula_of(figure, {}, none.season, none.reckoned);
}

} // namespace tarewell::figures
