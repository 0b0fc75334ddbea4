#include "audit/gross_errors.hpp"
#include "desk/audit.hpp"
#include "desk/grower_calls.hpp"

#include <algorithm>
#include <cmath>
#include <numeric>

namespace tarewell::desk {
namespace {

struct row_line {
    std::size_t row = 0;
    double p_wrong = 0; ///< that its ticket is
    double t = 0;       ///< of what the other rows leave open; 0 where the row is out
};

/// The likeliest to be wrong first, then the next by |t| in the season as its best world has it.
std::vector<row_line> to_look_at(const figures::fair_audit& fair, int most) {
    const auto corrected = fair.report.worlds.empty()
                               ? fair.season.weighed
                               : audit::corrected_season(fair.season, fair.report.worlds.front());
    audit::gross_error_options one_fit;
    one_fit.most = 0;
    const auto left = audit::find_gross_errors(corrected, figures::audit_options(), one_fit);
    std::vector<row_line> lines;
    for (std::size_t row = 0; row < fair.report.p_ticket.size(); ++row)
        if (const row_line line{row, fair.report.p_ticket[row], left.t[row]}; line.p_wrong > 0 || line.t != 0)
            lines.push_back(line);
    std::stable_sort(lines.begin(), lines.end(), [](const auto& a, const auto& b) {
        constexpr double worth_a_look = .05;
        const double p = a.p_wrong < worth_a_look ? 0 : a.p_wrong, q = b.p_wrong < worth_a_look ? 0 : b.p_wrong;
        return p != q ? p > q : std::abs(a.t) > std::abs(b.t);
    });
    const auto named = static_cast<std::size_t>(std::count_if(fair.report.named.begin(), fair.report.named.end(),
                                                              [](const auto& each) { return each.item.ticket; }));
    lines.resize(std::min(lines.size(), std::max(static_cast<std::size_t>(most), named)));
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

bool is_named(const figures::fair_audit& fair, std::size_t row) {
    return std::any_of(fair.report.named.begin(), fair.report.named.end(), [&](const auto& each) {
        return (each.item.ticket && each.item.index == static_cast<int>(row)) ||
               (each.or_that_ticket && each.that_bale == static_cast<int>(row));
    });
}

void tell_lines(answer& made, const audit_view& seen, const figures::fair_audit& fair, int most) {
    const auto claim = claims_by_row(seen.input);
    table shown{{"weighing=", "weighed on=", "ticket=", "net=", "claim=", "chance wrong=", "t=", "to check="}};
    auto list = value::array();
    for (const auto& line : to_look_at(fair, most)) {
        const bool named = is_named(fair, line.row);
        const double net = seen.input.season.bales[line.row].net;
        const auto& ticket = seen.seen.season.tickets[seen.input.rows[line.row].ticket].id;
        auto each = seen.row_fields(line.row);
        each["ticket"] = ticket;
        each["net"] = weight_text(net);
        each["estimate"] = weight_text(claim[line.row]);
        each["p_wrong"] = line.p_wrong;
        each["t"] = line.t != 0 ? value{line.t} : value{};
        each["to_check"] = named;
        list.push_back(std::move(each));
        shown.add({seen.row_in_words(line.row), seen.input.rows[line.row].on, ticket, fmt::format("{:.1f}", net),
                   fmt::format("{:.1f}", claim[line.row]), figures::chance_in_words(line.p_wrong),
                   line.t != 0 ? fmt::format("{:+.2f}", line.t) : "-", named ? "yes" : "no"});
    }
    made.data["look_at"] = std::move(list);
    if (!shown.empty()) made.show(shown);
}

} // namespace

answer audit_bales(const audit_view& seen, int most) {
    const auto fair = figures::fair_audit_of(seen.input, seen.seen.season);
    const auto checks = figures::checks_of(fair, seen.input, seen.seen.season);
    const auto others = left_out(seen);
    const bool tested = fair.report.status != audit::slip_status::too_few;
    const auto sentence =
        !tested
            ? (seen.fitted() ? fair.report.sentence : seen.reason())
            : fmt::format("{} A ticket that is not named is not thereby right: weights can't show an error of a tenth, "
                          "or a missing bundle; count pieces for that.",
                          checks.empty() ? "No ticket and no claim stands out from the others."
                                         : "What is named above comes before any talk with a grower.");
    answer made;
    made.data = seen.head();
    made.data["tested"] = tested;
    made.say(
        "Weighings that fit their bundles least, the worst first, out of {}; {}.\nA chance that the ticket is wrong "
        "weighs it against a wrong claim of one of its growers; t is how many times the usual\nscatter a weight lies "
        "from what all other weighings say.\n\n",
        seen.weighings_in_words(), seen.days_in_words());
    if (const auto rough = roughness_in_words(fair); !rough.empty()) made.say("{}\n\n", rough);
    tell_lines(made, seen, fair, most);
    made.data["checks"] = checks_for_machines(checks);
    made.data["left_out"] = others;
    if (!tested) made.data["reason"] = sentence;
    made.data["sentence"] = sentence;
    say_checks(made, checks);
    for (const auto& each : others)
        made.say("{}\n", each);
    made.say("\n{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
