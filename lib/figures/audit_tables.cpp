#include "figures/audit_tables.hpp"

#include "figures/fair_audit.hpp"
#include "figures/make_columns.hpp"

#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

std::size_t at(int index) { return static_cast<std::size_t>(index); }

table_column ratio_column(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::ratio, false};
}

table growers_without_rows() {
    return {"Audit growers",
            "What the scale says of each grower's claims, from all that was weighed by the quarter's last day: weight "
            "over claim with its 95 % interval, relative to others who claimed in the same way for the same kind of "
            "structure, how likely that is off by more than 10 %, and the call.",
            {words("grower", "Grower"), counts("bundles", "Bundles"), counts("weighed", "Bundles weighed"),
             heft("estimate", "Claim"), ratio_column("ratio", "Relative to method"), ratio_column("low", "Low"),
             ratio_column("high", "High"), ratio_column("p_outside", "Chance outside tolerance"),
             ratio_column("p_slip", "Chance of a slip in the claim"), words("call", "Call")},
            {}};
}

table checks_without_rows() {
    return {"Audit checks",
            "What to check before any talk with a grower: a ticket or a claim that the other weighings don't fit.",
            {words("tickets", "Tickets"), words("registrations", "Registrations"),
             ratio_column("probability", "Chance of a slip"), words("sentence", "What it is")},
            {}};
}

table bales_without_rows() {
    return {"Audit bales",
            "What the audit weighs: bales, loads weighed whole, and bundles weighed alone, which are deducted from "
            "their bale.",
            {words("subject", "Bale, load or bundle"), words("weighed_as", "Weighed as"),
             date_column("weighed_on", "Weighed on"), heft("estimate", "Claim"), heft("net", "Scale"),
             ratio_column("ratio", "Weight over claim")},
            {}};
}

class audit_table_maker {
  public:
    audit_table_maker(const records::season& season, const reconcile::reckoning& reckoned, const basis& on)
        : s_{season}, r_{reckoned}, input_{audit_input_of(season, reckoned,
                                                          quantity::span_of_days{quantity::day::min(), on.days.to})},
          fair_{fair_audit_of(input_, season)} {}

    table growers() const {
        auto made = growers_without_rows();
        std::vector<weight> claims(input_.growers.size());
        std::vector<std::int64_t> bundles(claims.size()), weighed(claims.size());
        for (std::size_t b = 0; b < input_.bundles.size(); ++b) {
            const auto grower = at(input_.season.bundles[b].grower);
            claims[grower] += r_.at(input_.bundles[b]).claim.estimate;
            ++bundles[grower];
            weighed[grower] += input_.season.bundles[b].bale >= 0 ? 1 : 0;
        }
        for (std::size_t g = 0; g < claims.size(); ++g) {
            const auto& of = fair_.report.growers[g];
            std::vector<cell> row{s_.at(input_.growers[g]).id.text(), bundles[g], weighed[g], claims[g]};
            if (has_ratio(fair_, static_cast<int>(g)))
                row.insert(row.end(), {of.ratio, of.low, of.high, of.p_runs_high + of.p_runs_low, of.p_slip});
            else
                row.resize(row.size() + 5);
            row.emplace_back(words_of(of.call));
            made.rows.push_back(std::move(row));
        }
        std::sort(made.rows.begin(), made.rows.end(), [](const auto& a, const auto& b) {
            return std::get<std::string>(a[0]) < std::get<std::string>(b[0]);
        });
        return made;
    }

    table checks() const {
        auto made = checks_without_rows();
        for (const auto& check : checks_of(fair_, input_, s_))
            made.rows.push_back(row_of(fmt::format("{}", fmt::join(check.tickets, " ")),
                                       fmt::format("{}", fmt::join(check.registrations, " ")), check.probability,
                                       check.sentence));
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
            made.rows.push_back(row_of(subject, weighed_as, input_.rows[k].on, claims[k], as_weight(net),
                                       claim > 0 ? cell{net / claim} : cell{}));
        }
        return made;
    }

  private:
    const records::season& s_;
    const reconcile::reckoning& r_;
    audit_input input_;
    fair_audit fair_;

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

std::vector<table> audit_tables(const records::season& season, const reconcile::reckoning& reckoned, const basis& on) {
    const audit_table_maker maker{season, reckoned, on};
    return {maker.growers(), maker.bales(), maker.checks()};
}

std::vector<table> audit_tables_without_rows() {
    return {growers_without_rows(), bales_without_rows(), checks_without_rows()};
}

} // namespace tarewell::figures
