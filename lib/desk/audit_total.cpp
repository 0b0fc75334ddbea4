#include "audit/finite_population.hpp"
#include "desk/audit.hpp"
#include "figures/audit_figures.hpp"

namespace tarewell::desk {
namespace {

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

table table_of(const std::vector<simple_estimate>& estimates) {
    table made{{"estimate=name", "together=total", "standard error=standard_error", "form=", "=form",
                "=standard_error_form_b", "=assumes", "what it takes for granted=", "=reason"}};
    for (const auto& each : estimates) {
        const auto& of = each.total;
        const bool error = of.usable && of.form != audit::error_form::none;
        const bool form_a = of.usable && of.form == audit::error_form::a;
        const auto number = [](bool known, double value) {
            return known ? cell{fmt::format("{:.0f}", value), weight_text(value)} : cell{"-", nullptr};
        };
        const std::string form = form_in_words(of.form);
        made.add(
            {each.name, number(of.usable, of.total), number(error, of.standard_error),
             form_a ? fmt::format("{} (B: {:.0f})", form, of.other_error) : form, form,
             form_a ? value{weight_text(of.other_error)} : value{}, each.assumes,
             of.usable ? each.assumes : of.sentence,
             cell::only_if(!error, of.usable ? "no sampling is assumed, so it has no standard error" : of.sentence)});
    }
    return made;
}

std::string total_sentence(const audit_view& seen, const whole_weight& whole) {
    if (!whole.on_hand.predicted()) return "What is on hand can't be predicted: " + seen.reason();
    if (seen.input.on_hand.empty())
        return "Nothing is on hand, so nothing has to be predicted; only the scales' divisions are unsure.";
    return "What is on hand is predicted, not weighed: the 95 % interval is right if the "
           "bundles on "
           "hand are like those weighed. It can't know of bundles that are missing, or that a processor will reject.";
}

/// What the report files as diverted for the same days.
quantity::weight filed_weight(const audit_view& seen) {
    return figures::weight_over("diverted_weight",
                                seen.days.value_or(quantity::span_of_days{quantity::day::min(), quantity::day::max()}),
                                seen.seen.season, seen.seen.reckoning);
}

const char* counting_in_words(const audit_view& seen) {
    const auto when = seen.seen.award().counted_when;
    return when == records::counting::weighed ? "weighed" : when == records::counting::shipped ? "shipped" : "accepted";
}

/// Expected, low and high with what is known besides; nulls where nothing is predicted.
void put_interval(value& to, const figures::on_hand_weight& on_hand, double besides) {
    const auto put = [&](const char* name, double of) {
        to[name] = on_hand.predicted() ? value{weight_text(besides + of)} : value{};
    };
    put("expected", on_hand.expected());
    put("low", on_hand.low());
    put("high", on_hand.high());
}

void put_weights(value& to, const audit_view& seen, const whole_weight& whole) {
    to["weighed"] = seen.input.weighed;
    to["residue"] = weight_text(whole.residue);
    to["on_hand"] = {{"bundles", seen.input.on_hand.size()},
                     {"estimate", weight_text(whole.on_hand_claim)},
                     {"weighed_alone", seen.input.on_hand_spot}};
    put_interval(to["on_hand"], whole.on_hand, 0.0);
    put_interval(to["total"], whole.on_hand, whole.weighed);
    put_interval(to["after_residue"], whole.on_hand, whole.weighed - whole.residue);
    to["filed"] = {
        {"figure", "diverted_weight"}, {"value", filed_weight(seen)}, {"counted_when", counting_in_words(seen)}};
    to["approximate"] = seen.model.fit().approximate;
    if (!whole.on_hand.predicted()) to["reason"] = seen.reason();
}

void say_weights(answer& made, const audit_view& seen, const whole_weight& whole) {
    const auto& on_hand = whole.on_hand;
    const auto with_interval = [&](double besides) {
        return on_hand.predicted() ? fmt::format("{:.0f}, between {:.0f} and {:.0f}", besides + on_hand.expected(),
                                                 besides + on_hand.low(), besides + on_hand.high())
                                   : std::string{"can't be predicted"};
    };
    const auto unit = seen.unit();
    made.say("What everything received weighs, in {}; {}. This is the audit's estimate, not the figure that is "
             "filed.\n\n",
             unit, seen.days_in_words());
    made.say("Weighed                       {:.0f} by {}\n", whole.weighed, seen.weighings_in_words());
    made.say("On hand, predicted            {} (claimed {:.0f}, {})\n", with_interval(0.0), whole.on_hand_claim,
             counted(seen.input.on_hand.size(), "bundle", "bundles"));
    made.say("Weighed and predicted         {}\n", with_interval(whole.weighed));
    made.say("  the same net of residue     {} (residue {:.0f})\n", with_interval(whole.weighed - whole.residue),
             whole.residue);
    made.say("Filed for these days          {} (diverted, counted when {})\n\n", quantity::text_of(filed_weight(seen)),
             counting_in_words(seen));
    made.say("Beside it, simpler estimates of the same:\n");
}

} // namespace

answer audit_total(const audit_view& seen) {
    const auto whole = weight_of(seen);
    const auto sentence = total_sentence(seen, whole);
    answer made;
    made.data = seen.head();
    put_weights(made.data, seen, whole);
    say_weights(made, seen, whole);
    made.tell("beside", table_of(simple_estimates(seen, whole)));
    made.data["sentence"] = sentence;
    made.say("Form A takes the scatter as it is; form B scales it by the mean claim of all over that of the sample.\n\n"
             "{}\n",
             sentence);
    if (seen.model.fit().approximate) made.say("{}\n", seen.model.fit().sentence);
    return made;
}

} // namespace tarewell::desk
