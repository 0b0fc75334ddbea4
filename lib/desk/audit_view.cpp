#include "desk/audit_view.hpp"

#include "figures/audit_figures.hpp"

#include <fmt/format.h>

#include <cmath>

namespace tarewell::desk {
namespace {

using figures::audit_row;

quantity::day day_named(const std::string& text) {
    const auto day = quantity::read_day(text);
    if (!day) throw records::input_error(fmt::format("'{}' is not a day; write it as 2026-05-14", text));
    return *day;
}

std::size_t at(int index) { return static_cast<std::size_t>(index); }

} // namespace

std::optional<quantity::span_of_days> days_of(const audit_request& request, const season_view& seen) {
    (void)seen.award();
    if (!request.quarter.empty()) return seen.season.days_of(period_named(request.quarter));
    if (request.from.empty() && request.to.empty()) return std::nullopt;
    quantity::span_of_days days{quantity::day::min(), quantity::day::max()};
    if (!request.from.empty()) days.from = day_named(request.from);
    if (!request.to.empty()) days.to = day_named(request.to);
    if (days.to < days.from)
        throw records::input_error(fmt::format("--to {} is before --from {}", request.to, request.from));
    return days;
}

audit_view view_audit(ledger::ledger_file of, const audit_request& request) {
    season_view seen{std::move(of), request.as_of};
    const auto days = days_of(request, seen);
    auto input = figures::audit_input_of(seen.season, seen.reckoning, days);
    audit::pooled_model model{input.season, figures::audit_options()};
    return {std::move(seen), request.quarter, days, std::move(input), std::move(model)};
}

bool audit_view::fitted() const { return figures::is_fitted(model); }

std::string audit_view::reason() const { return figures::why_not_fitted(model); }

std::string audit_view::days_in_words() const {
    if (!days) return "all days of the ledger";
    const bool open_start = days->from == quantity::day::min(), open_end = days->to == quantity::day::max();
    if (open_start) return fmt::format("through {}", quantity::text_of(days->to));
    if (open_end) return fmt::format("from {} on", quantity::text_of(days->from));
    const auto span = fmt::format("{} to {}", quantity::text_of(days->from), quantity::text_of(days->to));
    return quarter.empty() ? span : fmt::format("{} ({})", quarter, span);
}

std::string audit_view::weighings_in_words() const {
    std::size_t bales = 0, loads = 0, spots = 0;
    for (const auto& row : input.rows)
        ++(row.what == audit_row::kind::bale ? bales : row.what == audit_row::kind::load ? loads : spots);
    auto text = counted(bales, "bale", "bales");
    if (loads > 0) text += fmt::format("{} {}", spots > 0 ? "," : " and", counted(loads, "load", "loads"));
    if (spots > 0) text += fmt::format(" and {} weighed alone", counted(spots, "bundle", "bundles"));
    return text;
}

value audit_view::head() const {
    auto made = value::object();
    if (!quarter.empty()) made["quarter"] = quarter;
    made["from"] = days && days->from != quantity::day::min() ? value{days->from} : value{};
    made["to"] = days && days->to != quantity::day::max() ? value{days->to} : value{};
    made["as_of"] = seen.as_of;
    made["unit"] = unit();
    return made;
}

std::string audit_view::row_in_words(std::size_t row) const {
    const auto& what = input.rows[row];
    const auto rest = what.spots_taken_off ? ", less its spot weights" : "";
    switch (what.what) {
    case audit_row::kind::bale:
        return fmt::format("bale {}{}", seen.season.at(what.bale).id.text(), rest);
    case audit_row::kind::load:
        return fmt::format("load {}{}", seen.season.at(what.load).id.text(), rest);
    case audit_row::kind::bundle:
        break;
    }
    return fmt::format("bundle {} weighed alone", seen.season.at(what.bundle).id.text());
}

value audit_view::row_fields(std::size_t row) const {
    const auto& what = input.rows[row];
    value made;
    if (what.what == audit_row::kind::load)
        made["load"] = seen.season.at(what.load).id.text();
    else if (what.what == audit_row::kind::bale)
        made["bale"] = seen.season.at(what.bale).id.text();
    else
        made["bundle"] = seen.season.at(what.bundle).id.text();
    made["weighed_on"] = what.on;
    made["spot_weights_taken_off"] = what.spots_taken_off;
    return made;
}

const std::string& audit_view::grower_id(int grower) const {
    return seen.season.at(input.growers[at(grower)]).id.text();
}
const std::string& audit_view::site_id(int site) const { return seen.season.at(input.sites[at(site)]).id.text(); }
std::string audit_view::basis_name(int basis) const { return std::string{records::name_of(input.bases[at(basis)])}; }

double read_tolerance(const std::string& text) {
    auto digits = text;
    const bool percents = !digits.empty() && digits.back() == '%';
    if (percents) digits.pop_back();
    const auto read = quantity::read_decimal(digits);
    const double value = read.fault == quantity::decimal_fault::none ? quantity::nearest_double(read.value) : 0.0;
    const double share = percents || value >= 1.0 ? value / 100.0 : value;
    if (!(share > 0.0 && share < 1.0))
        throw records::input_error(fmt::format("'{}' is not a tolerance; write ten percent as 10%, 10 or 0.1", text));
    return share;
}

std::string percent_text(double share) { return fmt::format("{:.3g} %", 100.0 * share); }

std::string ratio_text(const std::optional<audit::ratio_interval>& of) {
    return of ? fmt::format("{:.2f}", of->ratio) : "-";
}

std::string interval_text(const std::optional<audit::ratio_interval>& of) {
    return of ? fmt::format("{:.2f} to {:.2f}", of->low, of->high) : "-";
}

void put_interval(value& to, const std::optional<audit::ratio_interval>& of, const std::string& reason) {
    to["ratio"] = of ? value{of->ratio} : value{};
    to["low"] = of ? value{of->low} : value{};
    to["high"] = of ? value{of->high} : value{};
    if (!of) to["reason"] = reason;
}

std::array<cell, 4> interval_cells(const std::optional<audit::ratio_interval>& of, const std::string& reason) {
    return {cell{ratio_text(of), of ? value{of->ratio} : value{}},
            cell{interval_text(of), of ? value{of->low} : value{}}, cell{"", of ? value{of->high} : value{}},
            cell::only_if(!of, reason)};
}

std::vector<double> claims_by_row(const figures::audit_input& of) {
    std::vector<double> claim(of.rows.size(), 0.0);
    for (const auto& bundle : of.season.bundles)
        if (bundle.bale >= 0) claim[at(bundle.bale)] += bundle.estimate;
    return claim;
}

std::string weight_text(double value) { return quantity::text_of(figures::as_weight(value)); }

std::string rounded_text(double value, const std::string& unit) {
    return fmt::format("{} {}", std::llround(value), unit);
}

} // namespace tarewell::desk
