#include "desk/audit.hpp"
#include "desk/scale_audit.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

std::string signal_words(const std::vector<audit::chart_signal>& signals, const scale_chart& of) {
    std::string text;
    for (const auto& each : signals)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", of.labels[static_cast<std::size_t>(each.index)],
                            each.above ? "above" : "below");
    return text.empty() ? "none" : text;
}

value signals_of(const std::vector<audit::chart_signal>& signals, const scale_chart& of) {
    auto list = value::array();
    for (const auto& each : signals)
        list.push_back(
            {{"ticket", of.labels[static_cast<std::size_t>(each.index)]}, {"side", each.above ? "above" : "below"}});
    return list;
}

value fields_of(const scale_chart& of) {
    value made{{"scale", of.scale},
               {"of", of.what},
               {"measure", of.what == "check weights" ? "difference" : "weight over claim"},
               {"tickets", of.labels},
               {"values", of.values}};
    const auto usable = [&](double value) { return of.chart.usable ? desk::value{value} : desk::value{}; };
    made["centre"] = usable(of.chart.centre);
    made["lower"] = usable(of.chart.lower);
    made["upper"] = usable(of.chart.upper);
    made["mean_range"] = usable(of.chart.mean_range);
    made["upper_range"] = usable(of.chart.upper_range);
    made["out"] = signals_of(of.chart.values_out, of);
    made["ranges_out"] = signals_of(of.chart.ranges_out, of);
    made["ewma"] = of.ewma.statistic;
    made["ewma_out"] = signals_of(of.ewma.out, of);
    if (!of.chart.usable) made["reason"] = of.chart.sentence;
    return made;
}

table table_of_checks(const scale_audit& all) {
    table made{{"check ticket=ticket", "date", "scale", "first scale=first_scale", "subject", "first", "check=second",
                "difference", "tolerance", "=reason", "beyond"}};
    for (const auto& each : all.checks) {
        const bool known = each.tolerance.count() > 0;
        made.add({each.ticket, each.on, each.scale, each.first_scale, each.subject, each.first, each.second,
                  each.difference(), known ? cell{each.tolerance} : cell{"-", nullptr},
                  cell::only_if(!known, "a scale's class is not known"),
                  cell{each.beyond() ? "yes" : "no", each.beyond()}});
    }
    return made;
}

table table_of_charts(const scale_audit& all) {
    table made{
        {"scale=", "chart of=", "n=", "centre=", "lower=", "upper=", "mean range=", "outside=", "slow drift (EWMA)="}};
    for (const auto& each : all.charts) {
        const bool usable = each.chart.usable;
        const auto shown = [&](double of) { return usable ? fmt::format("{:.3g}", of) : std::string{"-"}; };
        made.add({each.scale, each.what == "check weights" ? "check differences" : "spot weight over claim",
                  each.values.size(), shown(each.chart.centre), shown(each.chart.lower), shown(each.chart.upper),
                  shown(each.chart.mean_range),
                  usable ? signal_words(each.chart.values_out, each) : each.chart.sentence,
                  usable ? signal_words(each.ewma.out, each) : ""});
    }
    return made;
}

value fields_of(const scale_pair& each) {
    const auto& of = each.difference;
    const auto usable = [&](double real) { return of.usable ? value{real} : value{}; };
    value made{
        {"first", each.first},   {"second", each.second},   {"pairs", of.pairs}, {"mean_difference", usable(of.mean)},
        {"low", usable(of.low)}, {"high", usable(of.high)}, {"p", usable(of.p)}};
    if (!of.usable) made["reason"] = of.sentence;
    return made;
}

std::string sentence_of(const scale_pair& each, const std::string& unit) {
    const auto& of = each.difference;
    return of.usable ? fmt::format("{} less {}: {:.1f} {} on the average of {} loads, between {:.1f} and {:.1f}.\n",
                                   each.second, each.first, of.mean, unit, of.pairs, of.low, of.high)
                     : fmt::format("{} and {}: {}\n", each.first, each.second, of.sentence);
}

std::string closing_sentence(const scale_audit& all) {
    if (all.checks.empty())
        return "No load was weighed twice, so nothing can be said of a scale's own error: weigh one bale in twenty a "
               "second time. Spot "
               "weights over claim show drift only where it is larger than the scatter of claims.";
    const auto beyond =
        std::count_if(all.checks.begin(), all.checks.end(), [](const auto& each) { return each.beyond(); });
    return fmt::format(
        "Of {}, {} beyond both scales' class tolerance. A difference says that two weighings disagree; it can't say "
        "which one is "
        "right, and film may also gain or lose water in between. Few check weights show only a large drift.",
        counted(all.checks.size(), "check weight", "check weights"),
        beyond == 0   ? "none lies"
        : beyond == 1 ? "one lies"
                      : fmt::format("{} lie", beyond));
}

} // namespace

answer audit_scales(const season_view& seen, const audit_request& request) {
    const auto days = days_of(request, seen);
    const auto all = audit_of_scales(seen, days);
    const auto checks = table_of_checks(all);
    const auto sentence = closing_sentence(all);
    answer made;
    made.data = {{"as_of", seen.as_of}, {"unit", seen.unit()}};
    if (!request.quarter.empty()) made.data["quarter"] = request.quarter;
    made.data["checks"] = checks.rows();
    auto pairs = value::array(), charts = value::array();
    made.say("Scales: second weighings against the first, and weights in order of days, in {}; {}.\n\n", seen.unit(),
             !days                     ? "all days of the ledger"
             : request.quarter.empty() ? "the days asked for"
                                       : request.quarter);
    if (!checks.empty()) {
        made.show(checks);
        made.say("\n");
    }
    for (const auto& each : all.pairs) {
        pairs.push_back(fields_of(each));
        made.say("{}", sentence_of(each, seen.unit()));
    }
    for (const auto& each : all.charts)
        charts.push_back(fields_of(each));
    if (!all.charts.empty()) {
        made.show(table_of_charts(all));
        made.say("\n");
    }
    made.data["pairs"] = std::move(pairs);
    made.data["charts"] = std::move(charts);
    made.data["sentence"] = sentence;
    made.say("{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
