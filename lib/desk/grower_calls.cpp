#include "desk/grower_calls.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cmath>
#include <set>

namespace tarewell::desk {
namespace {

using audit::fair_call;

constexpr double ticket_in_doubt = .3; // as for letters, statistics of slips
constexpr std::size_t most_named = 3;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

/// "B001, B002, B003 and 4 more"
std::string some_of(const std::set<std::string>& ids) {
    const std::vector<std::string> first(
        ids.begin(), std::next(ids.begin(), static_cast<std::ptrdiff_t>(std::min(ids.size(), most_named))));
    return fmt::format("{}{}", fmt::join(first, ", "),
                       ids.size() > most_named ? fmt::format(" and {} more", ids.size() - most_named) : "");
}

/// What of a grower is still to come, or in doubt.
struct grower_papers {
    std::set<std::string> unweighed_bales, doubtful_tickets, doubtful_forms;
    std::size_t loose = 0; ///< bundles on hand that are in no bale
};

class line_maker {
  public:
    line_maker(const audit_view& seen, double tolerance) : seen_{seen} {
        made_.fair = figures::fair_audit_of(seen.input, seen.seen.season, tolerance);
        made_.checks = figures::checks_of(made_.fair, seen.input, seen.seen.season);
    }

    grower_lines run() && {
        for (std::size_t g = 0; g < seen_.input.growers.size(); ++g) {
            const auto& fair = made_.fair.report.growers[g];
            const int grower = static_cast<int>(g);
            made_.lines.push_back({seen_.grower_id(grower),
                                   0,
                                   0,
                                   {},
                                   {},
                                   fair,
                                   figures::has_ratio(made_.fair, grower),
                                   fair.call,
                                   {},
                                   {}});
        }
        add_bundles();
        group();
        for (std::size_t g = 0; g < made_.lines.size(); ++g)
            made_.lines[g].note = note_of(made_.lines[g], papers_[g]);
        count_calls();
        std::sort(made_.lines.begin(), made_.lines.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
        return std::move(made_);
    }

  private:
    const audit_view& seen_;
    grower_lines made_;
    std::vector<grower_papers> papers_;

    /// Claims and shares come from the ledger's whole numbers, so that they tie with `reconcile`.
    void add_bundles() {
        papers_.resize(made_.lines.size());
        for (std::size_t b = 0; b < seen_.input.bundles.size(); ++b) {
            const auto& bundle = seen_.input.season.bundles[b];
            auto& line = made_.lines[at(bundle.grower)];
            const auto& outcome = seen_.seen.reckoning.at(seen_.input.bundles[b]);
            ++line.bundles;
            line.claim += outcome.claim.estimate;
            look_at_papers(b, papers_[at(bundle.grower)]);
            if (bundle.bale < 0) continue;
            ++line.weighed_bundles;
            if (outcome.share)
                line.scale_share += *outcome.share;
            else if (outcome.spot_ticket)
                line.scale_share += seen_.seen.season.tickets[*outcome.spot_ticket].net_weight;
        }
    }

    void look_at_papers(std::size_t b, grower_papers& papers) const {
        const auto& season = seen_.seen.season;
        const auto& report = made_.fair.report;
        const int row = seen_.input.season.bundles[b].bale;
        const auto& outcome = seen_.seen.reckoning.at(seen_.input.bundles[b]);
        if (row >= 0) {
            if (report.p_ticket[at(row)] >= ticket_in_doubt)
                papers.doubtful_tickets.insert(season.tickets[seen_.input.rows[at(row)].ticket].id);
        } else if (outcome.in_bale() && (!seen_.days || season.at(outcome.bale).date <= seen_.days->to))
            papers.unweighed_bales.insert(season.at(outcome.bale).id.text());
        else
            ++papers.loose;
        const int registration = made_.fair.season.registration[b];
        if (report.p_registration[at(registration)] >= ticket_in_doubt)
            papers.doubtful_forms.insert(season.at(made_.fair.registrations[at(registration)]).id.text());
    }

    void group() {
        for (const auto& group : seen_.model.growers().groups) {
            grower_group named{{}, group.always_proportional};
            const bool together = std::all_of(group.growers.begin(), group.growers.end(),
                                              [&](int grower) { return made_.lines[at(grower)].called(); });
            for (const int grower : group.growers) {
                auto& line = made_.lines[at(grower)];
                named.growers.push_back(line.id);
                for (const int other : group.growers)
                    if (other != grower) line.with.push_back(made_.lines[at(other)].id);
                std::sort(line.with.begin(), line.with.end());
                if (line.called() && !together) {
                    line.call = fair_call::too_little_data;
                    line.fair.letter = false;
                }
            }
            std::sort(named.growers.begin(), named.growers.end());
            made_.groups.push_back(std::move(named));
        }
    }

    [[nodiscard]] std::string note_of(const grower_line& line, const grower_papers& papers) const {
        if (line.id == records::unknown_grower) return "bundles without a label are nobody's claim";
        const auto unit = seen_.unit();
        switch (line.call) {
        case fair_call::runs_high:
            return fmt::format("claims run {:.0f} % high ({})", 100.0 * (1.0 - line.fair.ratio),
                               where_others_have_100(line.fair.ratio, unit));
        case fair_call::runs_low:
            return fmt::format("claims run low ({})", where_others_have_100(line.fair.ratio, unit));
        case fair_call::fits:
            return {};
        case fair_call::check_first:
            return papers.doubtful_forms.empty() && papers.doubtful_tickets.empty()
                       ? std::string{"check the form first"}
                       : "check first: " + doubts_in_words(papers);
        default:
            break;
        }
        return waits_for(line, papers);
    }

    static std::string where_others_have_100(double ratio, const std::string& unit) {
        return fmt::format("{} {} where others have 100", figures::of_hundred(ratio), unit);
    }

    static std::string doubts_in_words(const grower_papers& papers) {
        std::string text;
        if (!papers.doubtful_forms.empty()) text = "registration " + some_of(papers.doubtful_forms);
        if (!papers.doubtful_tickets.empty())
            text += fmt::format("{}ticket {}", text.empty() ? "" : " or ", some_of(papers.doubtful_tickets));
        return text;
    }

    [[nodiscard]] std::string waits_for(const grower_line& line, const grower_papers& papers) const {
        std::string apart;
        if (!line.with.empty()) apart = fmt::format("not to be told apart from {}; ", fmt::join(line.with, ", "));
        if (!papers.doubtful_tickets.empty() || !papers.doubtful_forms.empty())
            return apart + "waits for a look at " + doubts_in_words(papers);
        if (!papers.unweighed_bales.empty()) return apart + "waits for " + some_of(papers.unweighed_bales);
        if (papers.loose > 0)
            return apart + fmt::format("waits for {} on hand", counted(papers.loose, "bundle", "bundles"));
        return apart + (line.weighed_bundles == 0 ? "nothing was weighed" : "nothing more is on hand");
    }

    void count_calls() {
        double wrong = 0.0;
        for (const auto& line : made_.lines)
            if (line.called()) {
                ++made_.called;
                wrong += 1.0 - line.p_outside();
            }
        if (made_.called > 0) made_.expected_false_share = wrong / made_.called;
    }
};

} // namespace

grower_lines lines_of_growers(const audit_view& seen, double tolerance) { return line_maker{seen, tolerance}.run(); }

value checks_for_machines(const std::vector<figures::audit_check>& checks) {
    auto list = value::array();
    for (const auto& check : checks)
        list.push_back({{"tickets", check.tickets},
                        {"registrations", check.registrations},
                        {"probability", check.probability},
                        {"sentence", check.sentence}});
    return list;
}

value fit_of(const audit_view& seen) {
    const auto& fit = seen.model.fit();
    const auto when_fitted = [fitted = seen.fitted()](double of) { return fitted ? value{of} : value{}; };
    auto by_basis = value::object();
    for (std::size_t b = 0; b < seen.input.bases.size(); ++b)
        by_basis[seen.basis_name(static_cast<int>(b))] =
            b < fit.mu_by_basis.size() ? value{fit.mu_by_basis[b]} : value{};
    value made{{"mu", fit.n > 0 ? value{fit.mu} : value{}},
               {"mu_by_basis", std::move(by_basis)},
               {"sd_grower", when_fitted(fit.sd_grower)},
               {"sd_site", when_fitted(fit.sd_site)},
               {"sd_bundle", when_fitted(fit.sd_bundle)},
               {"reml", when_fitted(fit.reml)},
               {"n", fit.n},
               {"approximate", fit.approximate}};
    if (fit.approximate) made["reml_error"] = fit.reml_error;
    made["sentence"] = fit.sentence;
    if (!seen.fitted()) made["reason"] = seen.reason();
    return made;
}

std::string means_in_words(const figures::fair_audit& fair) {
    constexpr std::size_t few = 3;
    const auto& weighed = fair.season.weighed;
    std::vector<std::set<int>> growers(fair.classes.size());
    for (const auto& bundle : weighed.bundles)
        if (bundle.bale >= 0) growers[at(bundle.basis)].insert(bundle.grower);
    std::string text;
    std::size_t left_out = 0;
    for (std::size_t c = 0; c < fair.report.class_ratio.size(); ++c) {
        const double ratio = fair.report.class_ratio[c];
        if (ratio <= 0.0) continue;
        if (growers[c].size() >= few)
            text += fmt::format("{}{} {}", text.empty() ? "" : "; ", figures::name_of(fair.classes[c]),
                                figures::ratio_in_words(ratio));
        else
            ++left_out;
    }
    if (left_out > 0)
        text += fmt::format("{}{} of fewer than {} growers", text.empty() ? "" : "; ",
                            counted(left_out, "kind", "kinds"), few);
    return text;
}

std::string why_nothing_is_said(const audit_view& seen, const grower_lines& growers) {
    if (growers.fair.report.status != audit::slip_status::too_few) return {};
    return seen.fitted() ? growers.fair.report.sentence : seen.reason();
}

void say_checks(answer& to, const std::vector<figures::audit_check>& checks) {
    if (checks.empty()) return;
    to.say("\nTo check first:\n");
    for (const auto& check : checks)
        to.say("- {}\n", check.sentence);
}

std::string roughness_in_words(const figures::fair_audit& fair) {
    return fair.report.status == audit::slip_status::best_world ? fair.report.sentence : std::string{};
}

} // namespace tarewell::desk
