#include "audit/gross_errors.hpp"
#include "audit_view.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <numeric>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    audit_request request;
    int most = 10;
};

struct row_line {
    std::size_t row = 0;
    double net = 0, claim = 0, t = 0;
    std::optional<double> expected;
};

std::vector<double> claims_by_row(const audit_view& seen) {
    std::vector<double> claim(seen.input.rows.size(), 0.0);
    for (const auto& bundle : seen.input.season.bundles)
        if (bundle.bale >= 0) claim[static_cast<std::size_t>(bundle.bale)] += bundle.estimate;
    return claim;
}

/// Those that stand out first, then the next by |t|.
std::vector<row_line> to_look_at(const audit_view& seen, const audit::gross_error_report& report, int most) {
    const auto claim = claims_by_row(seen);
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

void run_bales(const options& how, context& with) {
    const auto seen = view_audit(how.request, with);
    const auto report = audit::find_gross_errors(seen.input.season, figures::audit_options());
    const auto lines = to_look_at(seen, report, how.most);
    const auto others = left_out(seen);
    const auto stand_out = report.suspects.size();
    const auto sentence =
        report.sentence + (report.tested
                               ? " A bale that does not stand out is not thereby right: weights can't show an error of "
                                 "a tenth, or a missing bundle; count pieces for that."
                               : "");
    if (how.request.json) {
        auto made = seen.head();
        made["tested"] = report.tested;
        auto& list = made["look_at"] = json::array();
        for (std::size_t i = 0; i < lines.size(); ++i) {
            auto each = seen.row_json(lines[i].row);
            each["net"] = weight_text(lines[i].net);
            each["estimate"] = weight_text(lines[i].claim);
            each["expected"] = lines[i].expected ? json(weight_text(*lines[i].expected)) : json(nullptr);
            each["t"] = number(lines[i].t);
            each["stands_out"] = i < stand_out;
            list.push_back(std::move(each));
        }
        made["left_out"] = others;
        if (!report.tested) made["reason"] = report.sentence;
        made["sentence"] = sentence;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << fmt::format(
        "Weighings that fit their bundles least, the worst first, out of {}; {}.\nt is how many times the usual "
        "scatter a weight lies from what all other weighings say; beyond 3.5 it stands out.\n\n",
        seen.weighings_in_words(), seen.days_in_words());
    text_table table{{"weighing", "weighed on", "net", "claim", "expected", "t", "stands out"}};
    for (std::size_t i = 0; i < lines.size(); ++i)
        table.add({seen.row_in_words(lines[i].row), quantity::text_of(seen.input.rows[lines[i].row].on),
                   fmt::format("{:.1f}", lines[i].net), fmt::format("{:.1f}", lines[i].claim),
                   lines[i].expected ? fmt::format("{:.1f}", *lines[i].expected) : "-",
                   fmt::format("{:+.2f}", lines[i].t), i < stand_out ? "yes" : "no"});
    if (!lines.empty()) table.print(with.out);
    for (const auto& each : others)
        with.out << each << '\n';
    with.out << (lines.empty() ? "" : "\n") << sentence << '\n';
}

} // namespace

void add_audit_bales(const command& audit, context& with) {
    auto sub = audit.add("bales", "weights that do not fit their bundles, and which to look at first");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("--most", how.most, "how many to list beside those that stand out").between(1, 10'000).shows_default();
    sub.does([&how, &with] { run_bales(how, with); });
}

} // namespace tarewell::cli
