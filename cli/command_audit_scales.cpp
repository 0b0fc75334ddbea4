#include "audit_scales.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

std::string signal_words(const std::vector<audit::chart_signal>& signals, const scale_chart& of) {
    std::string text;
    for (const auto& each : signals)
        text += fmt::format("{}{} {}", text.empty() ? "" : ", ", of.labels[static_cast<std::size_t>(each.index)],
                            each.above ? "above" : "below");
    return text.empty() ? "none" : text;
}

json signals_json(const std::vector<audit::chart_signal>& signals, const scale_chart& of) {
    auto list = json::array();
    for (const auto& each : signals)
        list.push_back(
            {{"ticket", of.labels[static_cast<std::size_t>(each.index)]}, {"side", each.above ? "above" : "below"}});
    return list;
}

json chart_json(const scale_chart& of) {
    json made{{"scale", of.scale},
              {"of", of.what},
              {"measure", of.what == "check weights" ? "difference" : "weight over claim"},
              {"tickets", of.labels},
              {"values", of.values}};
    const auto usable = [&](double value) { return of.chart.usable ? number(value) : json(nullptr); };
    made["centre"] = usable(of.chart.centre);
    made["lower"] = usable(of.chart.lower);
    made["upper"] = usable(of.chart.upper);
    made["mean_range"] = usable(of.chart.mean_range);
    made["upper_range"] = usable(of.chart.upper_range);
    made["out"] = signals_json(of.chart.values_out, of);
    made["ranges_out"] = signals_json(of.chart.ranges_out, of);
    made["ewma"] = of.ewma.statistic;
    made["ewma_out"] = signals_json(of.ewma.out, of);
    if (!of.chart.usable) made["reason"] = of.chart.sentence;
    return made;
}

json check_json(const check_weight& each) {
    json made{{"ticket", each.ticket},
              {"date", quantity::text_of(each.on)},
              {"scale", each.scale},
              {"first_scale", each.first_scale},
              {"subject", each.subject},
              {"first", quantity::text_of(each.first)},
              {"second", quantity::text_of(each.second)},
              {"difference", quantity::text_of(each.difference())}};
    made["tolerance"] = each.tolerance.count() > 0 ? json(quantity::text_of(each.tolerance)) : json(nullptr);
    if (each.tolerance.count() == 0) made["reason"] = "a scale's class is not known";
    made["beyond"] = each.beyond();
    return made;
}

json pair_json(const scale_pair& each) {
    const auto& of = each.difference;
    const auto usable = [&](double value) { return of.usable ? number(value) : json(nullptr); };
    json made{{"first", each.first}, {"second", each.second}, {"pairs", of.pairs}};
    made["mean_difference"] = usable(of.mean);
    made["low"] = usable(of.low);
    made["high"] = usable(of.high);
    made["p"] = usable(of.p);
    if (!of.usable) made["reason"] = of.sentence;
    return made;
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

void print_scales(const scale_audit& all, const audit_request& request, const season_view& seen, std::ostream& out) {
    const auto days = days_of(request, seen.award());
    const auto unit = quantity::name_of(seen.award().unit);
    out << fmt::format("Scales: second weighings against the first, and weights in order of days, in {}; {}.\n\n", unit,
                       !days                     ? "all days of the ledger"
                       : request.quarter.empty() ? "the days asked for"
                                                 : request.quarter);
    if (!all.checks.empty()) {
        text_table table{{"check ticket", "date", "scale", "first scale", "subject", "first", "check", "difference",
                          "tolerance", "beyond"}};
        for (const auto& each : all.checks)
            table.add(
                {each.ticket, quantity::text_of(each.on), each.scale, each.first_scale, each.subject,
                 quantity::text_of(each.first), quantity::text_of(each.second), quantity::text_of(each.difference()),
                 each.tolerance.count() > 0 ? quantity::text_of(each.tolerance) : "-", each.beyond() ? "yes" : "no"});
        table.print(out);
        out << '\n';
    }
    for (const auto& each : all.pairs)
        out << (each.difference.usable
                    ? fmt::format("{} less {}: {:.1f} {} on the average of {} loads, between {:.1f} and {:.1f}.\n",
                                  each.second, each.first, each.difference.mean, unit, each.difference.pairs,
                                  each.difference.low, each.difference.high)
                    : fmt::format("{} and {}: {}\n", each.first, each.second, each.difference.sentence));
    if (!all.charts.empty()) {
        text_table table{
            {"scale", "chart of", "n", "centre", "lower", "upper", "mean range", "outside", "slow drift (EWMA)"}};
        for (const auto& each : all.charts) {
            const auto shown = [&](double value) {
                return each.chart.usable ? fmt::format("{:.3g}", value) : std::string{"-"};
            };
            table.add({each.scale, each.what == "check weights" ? "check differences" : "spot weight over claim",
                       fmt::format("{}", each.values.size()), shown(each.chart.centre), shown(each.chart.lower),
                       shown(each.chart.upper), shown(each.chart.mean_range),
                       each.chart.usable ? signal_words(each.chart.values_out, each) : each.chart.sentence,
                       each.chart.usable ? signal_words(each.ewma.out, each) : ""});
        }
        table.print(out);
        out << '\n';
    }
}

void run_scales(const audit_request& request, context& with) {
    const auto seen = view(with, request.as_of);
    const auto days = days_of(request, seen.award());
    const auto all = audit_of_scales(seen, days);
    const auto sentence = closing_sentence(all);
    if (!request.json) {
        print_scales(all, request, seen, with.out);
        with.out << sentence << '\n';
        return;
    }
    json made{{"as_of", seen.as_of}, {"unit", quantity::name_of(seen.award().unit)}};
    if (!request.quarter.empty()) made["quarter"] = request.quarter;
    made["checks"] = json::array();
    for (const auto& each : all.checks)
        made["checks"].push_back(check_json(each));
    made["pairs"] = json::array();
    for (const auto& each : all.pairs)
        made["pairs"].push_back(pair_json(each));
    made["charts"] = json::array();
    for (const auto& each : all.charts)
        made["charts"].push_back(chart_json(each));
    made["sentence"] = sentence;
    with.out << made.dump(2) << '\n';
}

} // namespace

void add_audit_scales(const command& audit, context& with) {
    auto sub = audit.add("scales", "check weights, control charts, and one scale against another");
    auto& request = audit.keep<audit_request>();
    add_audit_options(sub, request);
    sub.does([&request, &with] { run_scales(request, with); });
}

} // namespace tarewell::cli
