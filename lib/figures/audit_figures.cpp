#include "figures/audit_figures.hpp"

#include "figures/lines.hpp"

#include <fmt/format.h>

#include <array>
#include <stdexcept>

namespace tarewell::figures {
namespace {

/// What is expected, its low and its high end, or none and why.
struct predicted_values {
    std::array<figures::value, 3> values;
    std::string reason;
};

predicted_values nothing(std::string reason) { return {{}, std::move(reason)}; }

/// Sentences of the model as reasons: they stand in a table, so without a full stop.
std::string as_reason(std::string sentence) {
    if (sentence.ends_with('.')) sentence.pop_back();
    return sentence;
}

predicted_values predict(const report& of, const records::season& season, const reconcile::reckoning& reckoned,
                         const statistics_limits& limits) {
    if (of.find("on_hand_bundles")->value == figures::value{std::int64_t{0}})
        return {{weight{}, weight{}, weight{}}, {}};
    const auto elsewhere = fmt::format("see tarewell audit total --to {}", quantity::text_of(of.basis.days.to));
    if (season.bundles.size() > limits.bundles)
        return nothing(fmt::format("more than {} bundles; {}", limits.bundles, elsewhere));
    const auto input = audit_input_of(season, reckoned, quantity::span_of_days{quantity::day::min(), of.basis.days.to});
    if (input.rows.empty()) return nothing("no bale was weighed by the quarter's last day");
    try {
        auto options = audit_options();
        options.largest_work = limits.work;
        options.never_approximate = true;
        const audit::pooled_model model{input.season, options};
        if (model.fit().status == audit::pooled_status::too_large)
            return nothing(fmt::format("so many growers mixed take long to fit; {}", elsewhere));
        const auto on_hand = on_hand_weight_of(input, model);
        if (!on_hand.predicted()) return nothing(as_reason(why_not_fitted(model)));
        return {{as_weight(on_hand.expected()), as_weight(on_hand.low()), as_weight(on_hand.high())}, {}};
    } catch (const std::runtime_error& failure) {
        return nothing(fmt::format("the audit's model can't be fitted: {}", failure.what()));
    }
}

} // namespace

on_hand_weight on_hand_weight_of(const audit_input& input, const audit::pooled_model& model) {
    return {as_real(input.on_hand_spot), model.total()};
}

bool is_fitted(const audit::pooled_model& model) {
    const auto status = model.fit().status;
    return status == audit::pooled_status::fitted || status == audit::pooled_status::fitted_at_boundary;
}

std::string why_not_fitted(const audit::pooled_model& model) {
    if (is_fitted(model)) return {};
    if (model.fit().n == 1) return "One weighing is not enough to say how sure anything is; weigh more bales.";
    return model.fit().sentence;
}

void add_statistics(report& to, const records::season& season, const reconcile::reckoning& reckoned,
                    const statistics_limits& limits) {
    auto made = predict(to, season, reckoned, limits);
    const auto rows = to.find("on_hand_bundles")->rows;
    const auto* next = made.values.begin();
    for (const auto& each : all_lines())
        if (each.is == nullptr)
            to.figures.push_back({std::string{each.name}, *next++, name_of(each.unit, season.the_award->unit),
                                  said_of(to.basis.period, each.meaning), said_of(to.basis.period, made.reason), rows});
}

} // namespace tarewell::figures
