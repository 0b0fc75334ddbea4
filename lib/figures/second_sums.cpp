#include "figures/second_sums.hpp"

#include "figures/audit_figures.hpp"
#include "figures/second_summer.hpp"

namespace tarewell::figures {
namespace {

struct difference_of {
    figures::value operator()(std::int64_t a, std::int64_t b) const { return a - b; }
    figures::value operator()(weight a, weight b) const { return a - b; }
    figures::value operator()(money a, money b) const { return a - b; }
    figures::value operator()(real a, real b) const { return a - b; }
    template <class A, class B> figures::value operator()(const A&, const B&) const { return {}; }
};

} // namespace

std::vector<second_sum> second_sums(const report& of, const std::vector<table>& tables, const ledger::season& season) {
    second_summer second{of, tables, season};
    std::vector<second_sum> sums;
    for (const auto& figure : of.figures) {
        auto worked = is_statistic(figure.name) ? worked_out{figure.value, "from the audit's model; no sum of rows"}
                                                : second.work_out(figure.name);
        second_sum each{figure.name, figure.value, worked.value, {}, false, std::move(worked.way)};
        each.difference = std::visit(difference_of{}, each.filed, each.second);
        each.ties = each.filed == each.second;
        sums.push_back(std::move(each));
    }
    return sums;
}

} // namespace tarewell::figures
