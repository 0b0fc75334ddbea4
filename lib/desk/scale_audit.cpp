#include "desk/scale_audit.hpp"

#include "figures/audit_input.hpp"
#include "reconcile/scales.hpp"

#include <algorithm>
#include <cstdlib>
#include <map>
#include <tuple>

namespace tarewell::desk {
namespace {

using figures::as_real;

class scale_auditor {
  public:
    scale_auditor(const season_view& seen, const std::optional<quantity::span_of_days>& days)
        : s_{seen.season}, r_{seen.reckoning}, days_{days} {}

    scale_audit run() && {
        checks();
        spots();
        pairs();
        return std::move(made_);
    }

  private:
    const records::season& s_;
    const reconcile::reckoning& r_;
    const std::optional<quantity::span_of_days>& days_;
    scale_audit made_;

    [[nodiscard]] bool in_days(quantity::day on) const { return !days_ || days_->holds(on); }
    [[nodiscard]] const std::string& scale_id(const records::ticket& of) const { return s_.at(of.scale).id.text(); }

    /// What was decided without a check ticket: the bale's own ticket, or the tickets of all bales of the load.
    [[nodiscard]] std::optional<check_weight> check_of(const records::ticket& ticket) const {
        check_weight made{ticket.id, scale_id(ticket), {}, {}, ticket.date, {}, ticket.net_weight, {}};
        auto tolerance = reconcile::tolerance_of(s_, ticket);
        bool known = tolerance.count() > 0;
        const auto add = [&](records::bale_place bale) {
            const auto& weighed = r_.at(bale).weighed;
            if (!weighed || weighed->by_load) return false;
            const auto& first = s_.tickets[weighed->ticket];
            made.first += weighed->net;
            const auto one = reconcile::tolerance_of(s_, first);
            known = known && one.count() > 0;
            tolerance += one;
            made.first_scale = made.first_scale.empty() || made.first_scale == scale_id(first) ? scale_id(first)
                                                                                               : std::string{"several"};
            return true;
        };
        if (ticket.weighs == records::subject::bale) {
            made.subject = "bale " + s_.at(ticket.bale).id.text();
            if (!add(ticket.bale)) return std::nullopt;
        } else if (ticket.weighs == records::subject::load) {
            made.subject = "load " + s_.at(ticket.load).id.text();
            for (const auto bale : s_.at(ticket.load).bales)
                if (!add(bale)) return std::nullopt;
        } else
            return std::nullopt;
        if (known) made.tolerance = tolerance;
        return made;
    }

    void checks() {
        for (const auto index : r_.check_tickets) {
            const auto& ticket = s_.tickets[index];
            if (!in_days(ticket.date)) continue;
            if (auto made = check_of(ticket)) made_.checks.push_back(std::move(*made));
        }
        std::sort(made_.checks.begin(), made_.checks.end(),
                  [](const auto& a, const auto& b) { return std::tie(a.on, a.ticket) < std::tie(b.on, b.ticket); });
        std::map<std::string, scale_chart> by_scale;
        for (const auto& each : made_.checks) {
            auto& chart = by_scale[each.scale];
            chart.labels.push_back(each.ticket);
            chart.values.push_back(as_real(each.difference()));
        }
        put("check weights", std::move(by_scale));
    }

    void spots() {
        std::vector<std::tuple<quantity::day, std::string, std::string, double>> taken;
        for (const auto& outcome : r_.bundles) {
            if (!outcome.spot_ticket || outcome.claim.estimate.count() <= 0) continue;
            const auto& ticket = s_.tickets[*outcome.spot_ticket];
            if (in_days(ticket.date))
                taken.emplace_back(ticket.date, ticket.id, scale_id(ticket),
                                   as_real(ticket.net_weight) / as_real(outcome.claim.estimate));
        }
        std::sort(taken.begin(), taken.end());
        std::map<std::string, scale_chart> by_scale;
        for (auto& [on, ticket, scale, value] : taken) {
            auto& chart = by_scale[scale];
            chart.labels.push_back(ticket);
            chart.values.push_back(value);
        }
        put("spot weights", std::move(by_scale));
    }

    void put(const char* what, std::map<std::string, scale_chart> by_scale) {
        for (auto& [scale, chart] : by_scale) {
            chart.scale = scale;
            chart.what = what;
            chart.chart = audit::chart_individuals(chart.values);
            if (chart.chart.usable) {
                audit::ewma_settings settings;
                settings.target = chart.chart.centre;
                settings.sd = chart.chart.sd;
                chart.ewma = audit::chart_ewma(chart.values, settings);
            }
            made_.charts.push_back(std::move(chart));
        }
    }

    void pairs() {
        std::map<std::pair<std::string, std::string>, std::pair<std::vector<double>, std::vector<double>>> found;
        for (const auto& each : made_.checks) {
            if (each.scale == each.first_scale || each.first_scale == "several") continue;
            const bool turned = each.scale < each.first_scale; // one pair whichever scale came first
            auto& both =
                found[turned ? std::pair{each.scale, each.first_scale} : std::pair{each.first_scale, each.scale}];
            both.first.push_back(as_real(turned ? each.second : each.first));
            both.second.push_back(as_real(turned ? each.first : each.second));
        }
        for (const auto& [scales, both] : found)
            made_.pairs.push_back({scales.first, scales.second, audit::compare_scales(both.first, both.second)});
    }
};

} // namespace

bool check_weight::beyond() const {
    return tolerance.count() > 0 && std::abs(difference().count()) > tolerance.count();
}

scale_audit audit_of_scales(const season_view& seen, const std::optional<quantity::span_of_days>& days) {
    return scale_auditor{seen, days}.run();
}

} // namespace tarewell::desk
