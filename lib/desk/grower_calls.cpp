#include "desk/grower_calls.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>

namespace tarewell::desk {
namespace {

using audit::grower_call;

std::size_t at(int index) { return static_cast<std::size_t>(index); }

bool is_call(grower_call call) { return call == grower_call::runs_high || call == grower_call::runs_low; }

class line_maker {
  public:
    line_maker(const audit_view& seen, double tolerance) : seen_{seen} {
        audit::call_options options;
        options.tolerance = tolerance;
        made_.report = seen.model.growers(options);
    }

    grower_lines run() && {
        for (const auto& ratio : made_.report.growers)
            made_.lines.push_back(line_of(ratio));
        weights();
        count_calls();
        std::sort(made_.lines.begin(), made_.lines.end(), [](const auto& a, const auto& b) { return a.id < b.id; });
        return std::move(made_);
    }

  private:
    const audit_view& seen_;
    grower_lines made_;

    grower_line line_of(const audit::grower_ratio& ratio) const {
        grower_line line;
        line.ratio = ratio;
        line.id = seen_.grower_id(ratio.grower);
        line.call = ratio.call;
        if (line.id == records::unknown_grower) {
            line.call = grower_call::cannot_tell;
            line.reason = "bundles without a label are nobody's claim";
        } else if (!ratio.to_claim)
            line.reason = !seen_.fitted()              ? seen_.reason()
                          : ratio.weighed_bundles == 0 ? "none of this grower's bundles was weighed"
                                                       : "the estimates of this grower's weighed bundles are 0";
        if (ratio.group >= 0)
            for (const int other : made_.report.groups[at(ratio.group)].growers)
                if (other != ratio.grower) line.with.push_back(seen_.grower_id(other));
        std::sort(line.with.begin(), line.with.end());
        if (!line.with.empty() && line.reason.empty() && line.call == grower_call::cannot_tell)
            line.reason = made_.report.groups[at(ratio.group)].always_proportional
                              ? "always in the same bales in the same proportion as others"
                              : "the bales so far can't tell this grower from others";
        return line;
    }

    /// Claims and shares come from the ledger's whole numbers, so that they tie with `reconcile`.
    void weights() {
        for (std::size_t b = 0; b < seen_.input.bundles.size(); ++b) {
            auto& line = made_.lines[at(seen_.input.season.bundles[b].grower)];
            const auto& outcome = seen_.seen.reckoning.at(seen_.input.bundles[b]);
            line.claim += outcome.claim.estimate;
            if (seen_.input.season.bundles[b].bale < 0) continue;
            if (outcome.share)
                line.scale_share += *outcome.share;
            else if (outcome.spot_ticket)
                line.scale_share += seen_.seen.season.tickets[*outcome.spot_ticket].net_weight;
        }
    }

    void count_calls() {
        double wrong = 0.0;
        const auto add = [&](double p_outside) {
            ++made_.called;
            wrong += 1.0 - p_outside;
        };
        for (const auto& line : made_.lines)
            if (is_call(line.call)) add(line.ratio.p_outside);
        for (const auto& group : made_.report.groups)
            if (is_call(group.call)) add(group.p_outside);
        if (made_.called > 0) made_.expected_false_share = wrong / made_.called;
    }
};

} // namespace

grower_lines lines_of_growers(const audit_view& seen, double tolerance) { return line_maker{seen, tolerance}.run(); }

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

std::string means_in_words(const audit_view& seen) {
    if (!seen.fitted()) return {};
    std::string text;
    const auto& fit = seen.model.fit();
    for (std::size_t b = 0; b < seen.input.bases.size(); ++b)
        if (fit.mu_by_basis[b])
            text += fmt::format("{}{} {:.2f}", text.empty() ? "" : ", ", seen.basis_name(static_cast<int>(b)),
                                *fit.mu_by_basis[b]);
    return text;
}

} // namespace tarewell::desk
