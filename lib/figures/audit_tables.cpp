#include "figures/audit_tables.hpp"

#include "figures/audit_figures.hpp"
#include "figures/make_columns.hpp"

#include <algorithm>

namespace tarewell::figures {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

table_column ratio_column(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::ratio, false};
}

table growers_without_rows() {
    return {
        "Audit growers",
        "What the scale says of each grower's claims, from all that was weighed by the quarter's last day: weight over "
        "claim with its 95 % interval, the same against growers who estimated in the same way, how likely that is off "
        "by "
        "more than 10 %, and the call.",
        {words("grower", "Grower"), counts("bundles", "Bundles"), counts("weighed", "Bundles weighed"),
         heft("estimate", "Claim"), ratio_column("ratio", "Weight over claim"), ratio_column("low", "Low"),
         ratio_column("high", "High"), ratio_column("to_basis", "To basis"),
         ratio_column("to_basis_low", "To basis, low"), ratio_column("to_basis_high", "To basis, high"),
         ratio_column("p_outside", "P outside"), words("call", "Call")},
        {}};
}

table bales_without_rows() {
    return {
        "Audit bales",
        "What the audit weighs: bales, loads weighed whole, and bundles weighed alone, which are taken off their bale.",
        {words("subject", "Bale, load or bundle"), words("weighed_as", "Weighed as"),
         date_column("weighed_on", "Weighed on"), heft("estimate", "Claim"), heft("net", "Scale"),
         ratio_column("ratio", "Weight over claim")},
        {}};
}

class audit_table_maker {
  public:
    audit_table_maker(const records::season& season, const reconcile::reckoning& reckoned, const basis& on)
        : s_{season}, r_{reckoned}, input_{audit_input_of(season, reckoned,
                                                          quantity::span_of_days{quantity::day::min(), on.days.to})} {}

    table growers() const {
        auto made = growers_without_rows();
        const audit::pooled_model model{input_.season, audit_options()};
        std::vector<weight> claims(input_.growers.size());
        for (std::size_t b = 0; b < input_.bundles.size(); ++b)
            claims[at(input_.season.bundles[b].grower)] += r_.at(input_.bundles[b]).claim.estimate;
        for (const auto& each : model.growers().growers)
            made.rows.push_back(row_of(each, claims[at(each.grower)]));
        std::sort(made.rows.begin(), made.rows.end(), [](const auto& a, const auto& b) {
            return std::get<std::string>(a[0]) < std::get<std::string>(b[0]);
        });
        return made;
    }

    table bales() const {
        auto made = bales_without_rows();
        std::vector<weight> claims(input_.rows.size());
        for (std::size_t b = 0; b < input_.bundles.size(); ++b)
            if (const int row = input_.season.bundles[b].bale; row >= 0)
                claims[at(row)] += r_.at(input_.bundles[b]).claim.estimate;
        for (std::size_t k = 0; k < input_.rows.size(); ++k) {
            const double net = input_.season.bales[k].net, claim = as_real(claims[k]);
            const auto [subject, weighed_as] = subject_of(input_.rows[k]);
            made.rows.push_back({subject, weighed_as, input_.rows[k].on, claims[k], as_weight(net),
                                 claim > 0 ? cell{net / claim} : cell{}});
        }
        return made;
    }

  private:
    const records::season& s_;
    const reconcile::reckoning& r_;
    audit_input input_;

    std::vector<cell> row_of(const audit::grower_ratio& of, weight claim) const {
        const auto& id = s_.at(input_.growers[at(of.grower)]).id.text();
        std::vector<cell> row{id, std::int64_t{of.bundles}, std::int64_t{of.weighed_bundles}, claim};
        for (const auto* each : {&of.to_claim, &of.to_bases})
            if (*each)
                row.insert(row.end(), {(*each)->ratio, (*each)->low, (*each)->high});
            else
                row.resize(row.size() + 3);
        row.push_back(of.to_bases ? cell{of.p_outside} : cell{});
        // Bundles without a label are nobody's claim.
        row.emplace_back(words_of(id == records::unknown_grower ? audit::grower_call::cannot_tell : of.call));
        return row;
    }

    [[nodiscard]] std::pair<std::string, std::string> subject_of(const audit_row& of) const {
        const std::string rest = of.spots_taken_off ? "less its spot weights" : "whole";
        switch (of.what) {
        case audit_row::kind::bale:
            return {s_.at(of.bale).id.text(), "bale, " + rest};
        case audit_row::kind::load:
            return {s_.at(of.load).id.text(), "load, " + rest};
        case audit_row::kind::bundle:
            break;
        }
        return {s_.at(of.bundle).id.text(), "bundle, alone"};
    }
};

} // namespace

std::string words_of(audit::grower_call call) {
    switch (call) {
    case audit::grower_call::runs_high:
        return "runs high";
    case audit::grower_call::runs_low:
        return "runs low";
    case audit::grower_call::fits:
        return "fits";
    case audit::grower_call::never_weighed:
    case audit::grower_call::cannot_tell:
        break;
    }
    return "can't tell yet";
}

std::vector<table> audit_tables(const records::season& season, const reconcile::reckoning& reckoned, const basis& on) {
    const audit_table_maker maker{season, reckoned, on};
    return {maker.growers(), maker.bales()};
}

std::vector<table> audit_tables_without_rows() { return {growers_without_rows(), bales_without_rows()}; }

} // namespace tarewell::figures
