#include "audit/gross_errors.hpp"
#include "desk/audit.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarewell::desk {
namespace {

struct row_line {
    std::size_t row = 0;
    double net = 0, claim = 0, t = 0;
    std::optional<double> expected;
};

/// Those that stand out first, then the next by |t|.
std::vector<row_line> to_look_at(const audit_view& seen, const audit::gross_error_report& report, int most) {
    const auto claim = claims_by_row(seen.input);
    std::vector<row_line> lines;
    std::vector<char> taken(seen.input.rows.size(), 0);
    const auto add = [&](std::size_t row, double t, std::optional<double> expected) {
        taken[row] = 1;
        lines.push_back({row, seen.input.season.bales[row].net, claim[row], t, expected});
    };
    for (const auto& suspect : report.suspects)
        add(static_cast<std::size_t>(suspect.bale), suspect.t, suspect.expected);
    std::vector<std::size_t> order(seen.input.rows.size());
    std::iota(order.begin(), order.end(), std::size_t{0});
    std::stable_sort(order.begin(), order.end(),
                     [&](auto a, auto b) { return std::abs(report.t[a]) > std::abs(report.t[b]); });
    for (const auto row : order)
        if (taken[row] == 0 && report.t[row] != 0.0 && static_cast<int>(lines.size()) < most)
            add(row, report.t[row], std::nullopt);
    return lines;
}

/// What could not be compared at all: findings of the fit and of taking spot weights off.
std::vector<std::string> left_out(const audit_view& seen) {
    std::vector<std::string> found;
    for (const auto* findings : {&seen.input.findings, &seen.model.fit().findings})
        for (const auto& each : *findings) {
            using enum audit::finding_kind;
            const bool of_bale = each.kind == net_below_zero || each.kind == net_not_finite ||
                                 each.kind == bale_without_estimate || each.kind == spot_over_net;
            if (of_bale && each.item >= 0)
                found.push_back(
                    fmt::format("{}: {}", seen.row_in_words(static_cast<std::size_t>(each.item)), each.sentence));
        }
    return found;
}

} // namespace

answer audit_bales(const audit_view& seen, int most) {
    const auto report = audit::find_gross_errors(seen.input.season, figures::audit_options());
    const auto lines = to_look_at(seen, report, most);
    const auto others = left_out(seen);
    const auto sentence =
        report.sentence + (report.tested
                               ? " A bale that does not stand out is not thereby right: weights can't show an error of "
                                 "a tenth, or a missing bundle; count pieces for that."
                               : "");
    table shown{{"weighing=", "weighed on=", "net=", "claim=", "expected=", "t=", "stands out="}};
    auto list = value::array();
    for (std::size_t i = 0; i < lines.size(); ++i) {
        const auto& line = lines[i];
        const bool stands_out = i < report.suspects.size();
        auto each = seen.row_fields(line.row);
        each["net"] = weight_text(line.net);
        each["estimate"] = weight_text(line.claim);
        each["expected"] = line.expected ? value{weight_text(*line.expected)} : value{};
        each["t"] = line.t;
        each["stands_out"] = stands_out;
        list.push_back(std::move(each));
        shown.add({seen.row_in_words(line.row), seen.input.rows[line.row].on, fmt::format("{:.1f}", line.net),
                   fmt::format("{:.1f}", line.claim), line.expected ? fmt::format("{:.1f}", *line.expected) : "-",
                   fmt::format("{:+.2f}", line.t), stands_out ? "yes" : "no"});
    }
    answer made;
    made.data = seen.head();
    made.data["tested"] = report.tested;
    made.data["look_at"] = std::move(list);
    made.data["left_out"] = others;
    if (!report.tested) made.data["reason"] = report.sentence;
    made.data["sentence"] = sentence;
    made.say("Weighings that fit their bundles least, the worst first, out of {}; {}.\nt is how many times the usual "
             "scatter a weight lies from what all other weighings say; beyond 3.5 it stands out.\n\n",
             seen.weighings_in_words(), seen.days_in_words());
    if (!lines.empty()) made.show(shown);
    for (const auto& each : others)
        made.say("{}\n", each);
    made.say("{}{}\n", lines.empty() ? "" : "\n", sentence);
    return made;
}

} // namespace tarewell::desk
