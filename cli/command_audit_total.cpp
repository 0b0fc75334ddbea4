#include "audit/finite_population.hpp"
#include "audit_view.hpp"
#include "command_audit.hpp"
#include "figures/audit_figures.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <cmath>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;
using figures::as_real;

/// What everything received weighs: weighed exactly, on hand as the model expects it.
struct whole_weight {
    double weighed = 0, residue = 0, on_hand_claim = 0;
    figures::on_hand_weight on_hand;
};

whole_weight weight_of(const audit_view& seen) {
    whole_weight made;
    made.weighed = as_real(seen.input.weighed);
    made.on_hand = figures::on_hand_weight_of(seen.input, seen.model);
    quantity::weight residue, claim;
    for (const auto& each : seen.seen.reckoning.residues)
        if (!seen.days || seen.days->holds(each.on)) residue += each.counted;
    for (const auto bundle : seen.input.on_hand)
        claim += seen.seen.reckoning.at(bundle).claim.estimate;
    made.residue = as_real(residue);
    made.on_hand_claim = as_real(claim);
    return made;
}

struct simple_estimate {
    std::string name, assumes;
    audit::population_total total;
};

const char* form_in_words(audit::error_form form) {
    switch (form) {
    case audit::error_form::a:
        return "A";
    case audit::error_form::b:
        return "B";
    case audit::error_form::linear:
        return "n - 2";
    case audit::error_form::expansion:
        return "expansion";
    case audit::error_form::hansen_hurwitz:
        return "with replacement";
    case audit::error_form::none:
        break;
    }
    return "none";
}

/// Bundles are the units: all received are the population, those weighed alone the sample, and those behind any
/// weighing the first sample of double sampling.
std::vector<simple_estimate> simple_estimates(const audit_view& seen, const whole_weight& whole) {
    audit::paired_sample sample;
    double claim = 0, weighed_claim = 0;
    std::size_t weighed = 0;
    for (std::size_t b = 0; b < seen.input.bundles.size(); ++b) {
        const auto& outcome = seen.seen.reckoning.at(seen.input.bundles[b]);
        const double x = as_real(outcome.claim.estimate);
        claim += x;
        const int row = seen.input.season.bundles[b].bale;
        if (row < 0) continue;
        weighed_claim += x;
        ++weighed;
        const auto& what = seen.input.rows[static_cast<std::size_t>(row)];
        if (what.what != figures::audit_row::kind::bundle || x <= 0) continue;
        sample.x.push_back(x);
        sample.y.push_back(seen.input.season.bales[static_cast<std::size_t>(row)].net);
    }
    const auto count = static_cast<double>(seen.input.bundles.size());
    const auto first = static_cast<double>(weighed);
    const double first_mean = weighed > 0 ? weighed_claim / first : 0;
    const auto net = whole.weighed + whole.on_hand.weighed_alone;
    std::vector<double> chance;
    for (const double x : sample.x)
        chance.push_back(x / claim);
    const std::string drawn = "as if the bundles weighed alone were drawn at random";
    return {{"pro rata", "as if what is on hand were like what is weighed",
             audit::pro_rata_total(net, weighed_claim, claim - weighed_claim)},
            {"ratio", drawn, audit::ratio_total(sample, count, claim)},
            {"regression", drawn, audit::regression_total(sample, count, claim)},
            {"double sampling, ratio", drawn, audit::double_sampling_ratio(sample, first, first_mean, count)},
            {"double sampling, regression", drawn, audit::double_sampling_regression(sample, first, first_mean, count)},
            {"proportional to claim", "as if each were drawn with a chance proportional to its claim",
             audit::hansen_hurwitz_total(sample.y, chance)}};
}

json estimates_json(const std::vector<simple_estimate>& estimates) {
    auto list = json::array();
    for (const auto& each : estimates) {
        const auto& of = each.total;
        const bool error = of.usable && of.form != audit::error_form::none;
        json made{{"name", each.name}};
        made["total"] = of.usable ? json(weight_text(of.total)) : json(nullptr);
        made["standard_error"] = error ? json(weight_text(of.standard_error)) : json(nullptr);
        made["form"] = form_in_words(of.form);
        made["standard_error_form_b"] =
            of.usable && of.form == audit::error_form::a ? json(weight_text(of.other_error)) : json(nullptr);
        made["assumes"] = each.assumes;
        if (!of.usable)
            made["reason"] = of.sentence;
        else if (!error)
            made["reason"] = "no sampling is assumed, so it has no standard error";
        list.push_back(std::move(made));
    }
    return list;
}

std::string total_sentence(const audit_view& seen, const whole_weight& whole) {
    if (!whole.on_hand.predicted()) return "What is on hand can't be predicted: " + seen.reason();
    if (seen.input.on_hand.empty())
        return "Nothing is on hand, so nothing has to be predicted; only the scales' divisions are unsure.";
    return "What is on hand is predicted, not weighed: the interval holds the truth about 19 times in 20 if the "
           "bundles on "
           "hand are like those weighed. It can't know of bundles that are missing, or that a processor will reject.";
}

json whole_json(const audit_view& seen, const whole_weight& whole, const std::vector<simple_estimate>& beside) {
    const auto& on_hand = whole.on_hand;
    const auto predicted = [&](double value) { return on_hand.predicted() ? json(weight_text(value)) : json(nullptr); };
    auto made = seen.head();
    made["weighed"] = quantity::text_of(seen.input.weighed);
    made["residue"] = weight_text(whole.residue);
    auto& hand = made["on_hand"] = json{{"bundles", seen.input.on_hand.size()},
                                        {"estimate", weight_text(whole.on_hand_claim)},
                                        {"weighed_alone", quantity::text_of(seen.input.on_hand_spot)}};
    hand["expected"] = predicted(on_hand.expected());
    hand["low"] = predicted(on_hand.low());
    hand["high"] = predicted(on_hand.high());
    const auto put = [&](const char* name, double besides) {
        auto& to = made[name] = json::object();
        to["expected"] = predicted(besides + on_hand.expected());
        to["low"] = predicted(besides + on_hand.low());
        to["high"] = predicted(besides + on_hand.high());
    };
    put("total", whole.weighed);
    put("diverted", whole.weighed - whole.residue);
    made["approximate"] = seen.model.fit().approximate;
    if (!on_hand.predicted()) made["reason"] = seen.reason();
    made["beside"] = estimates_json(beside);
    made["sentence"] = total_sentence(seen, whole);
    return made;
}

void print_total(const audit_view& seen, const whole_weight& whole, const std::vector<simple_estimate>& beside,
                 std::ostream& out) {
    const auto& on_hand = whole.on_hand;
    const auto with_interval = [&](double besides) {
        return on_hand.predicted() ? fmt::format("{:.0f}, between {:.0f} and {:.0f}", besides + on_hand.expected(),
                                                 besides + on_hand.low(), besides + on_hand.high())
                                   : std::string{"can't be predicted"};
    };
    const auto unit = seen.unit();
    out << fmt::format("What everything received weighs, in {}; {}.\n\n", unit, seen.days_in_words());
    out << fmt::format("Weighed   {:.0f} by {}\n", whole.weighed, seen.weighings_in_words());
    out << fmt::format("On hand   {} (claimed {:.0f}, {})\n", with_interval(0.0), whole.on_hand_claim,
                       counted(seen.input.on_hand.size(), "bundle", "bundles"));
    out << fmt::format("Together  {}\n", with_interval(whole.weighed));
    out << fmt::format("Diverted  {} (residue of {:.0f} taken off)\n\n", with_interval(whole.weighed - whole.residue),
                       whole.residue);
    out << "Beside it, simpler estimates of the same:\n";
    text_table table{{"estimate", "together", "standard error", "form", "what it takes for granted"}};
    for (const auto& each : beside) {
        const auto& of = each.total;
        const bool error = of.usable && of.form != audit::error_form::none;
        auto form = std::string{form_in_words(of.form)};
        if (of.usable && of.form == audit::error_form::a) form += fmt::format(" (B: {:.0f})", of.other_error);
        table.add({each.name, of.usable ? fmt::format("{:.0f}", of.total) : "-",
                   error ? fmt::format("{:.0f}", of.standard_error) : "-", form,
                   of.usable ? each.assumes : of.sentence});
    }
    table.print(out);
    out << "Form A takes the scatter as it is; form B scales it by the mean claim of all over that of the sample.\n\n"
        << total_sentence(seen, whole) << '\n';
    if (seen.model.fit().approximate) out << seen.model.fit().sentence << '\n';
}

void run_total(const audit_request& request, context& with) {
    const auto seen = view_audit(request, with);
    const auto whole = weight_of(seen);
    const auto beside = simple_estimates(seen, whole);
    if (request.json)
        with.out << whole_json(seen, whole, beside).dump(2) << '\n';
    else
        print_total(seen, whole, beside, with.out);
}

} // namespace

void add_audit_total(const command& audit, context& with) {
    auto sub = audit.add("total", "what all that was received weighs: weighed, and on hand with an interval");
    auto& request = audit.keep<audit_request>();
    add_audit_options(sub, request);
    sub.does([&request, &with] { run_total(request, with); });
}

} // namespace tarewell::cli
