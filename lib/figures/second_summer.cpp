#include "figures/second_summer.hpp"

#include <algorithm>
#include <stdexcept>

namespace tarewell::figures {

using namespace ledger; // NOLINT

namespace {

std::string heading(const table& of, std::string_view column) {
    return "'" + of.columns[of.column(column)].heading + "'";
}

} // namespace

std::int64_t units_in(const cell& of) {
    if (const auto* heft = std::get_if<weight>(&of)) return heft->count();
    if (const auto* dollars = std::get_if<money>(&of)) return dollars->count();
    if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
    return 0;
}

worked_out second_summer::work_out(const std::string& name) {
    if (const auto done = made_.find(name); done != made_.end()) return done->second;
    return made_[name] = first_time(name);
}

const table& second_summer::the(std::string_view name) const {
    for (const auto& each : tables_)
        if (each.name == name) return each;
    throw std::logic_error("no evidence table " + std::string{name});
}

bool second_summer::holds(const cell& date, when which) const {
    const auto* on = std::get_if<day>(&date);
    if (on == nullptr) return false;
    if (which == when::in_quarter) return on_.days.holds(*on);
    return which == when::to_date ? *on <= on_.days.to : *on < on_.days.from;
}

second_summer::row_test second_summer::dated(const table& of, std::string_view column, when which) const {
    return [this, at = of.column(column), which](const std::vector<cell>& row) { return holds(row[at], which); };
}

second_summer::row_test second_summer::both(row_test a, row_test b) {
    return [a = std::move(a), b = std::move(b)](const std::vector<cell>& row) { return a(row) && b(row); };
}

second_summer::row_test second_summer::says(const table& of, std::string_view column, std::string text, bool wanted) {
    return [at = of.column(column), text = std::move(text), wanted](const std::vector<cell>& row) {
        const auto* words = std::get_if<std::string>(&row[at]);
        return (words != nullptr && *words == text) == wanted;
    };
}

std::int64_t second_summer::count(const table& of, const row_test& test) {
    return std::count_if(of.rows.begin(), of.rows.end(), test);
}

std::int64_t second_summer::sum(const table& of, std::string_view column, const row_test& test) {
    std::int64_t all = 0;
    for (const auto& row : of.rows)
        if (test(row)) all += units_in(row[of.column(column)]);
    return all;
}

worked_out second_summer::rows(std::string_view name, std::string_view column) const {
    const auto& of = the(name);
    return {count(of, dated(of, column, when::in_quarter)),
            "rows of " + of.name + " with " + heading(of, column) + " in the quarter"};
}

worked_out second_summer::hefts(std::string_view name, std::string_view what, std::string_view column) const {
    const auto& of = the(name);
    return {weight{sum(of, what, dated(of, column, when::in_quarter))},
            heading(of, what) + " of " + of.name + " with " + heading(of, column) + " in the quarter"};
}

worked_out second_summer::first_time(const std::string& name) {
    if (auto found = bundles(name)) return *found;
    if (auto found = growers(name)) return *found;
    if (auto found = bales(name)) return *found;
    if (auto found = tons(name)) return *found;
    if (auto found = dollars(name)) return *found;
    if (auto found = ratios(name)) return *found;
    if (auto found = agency_money(name)) return *found;
    if (name == "projected_tons") return projected_tons();
    throw std::logic_error("no second sum for the figure " + name);
}

std::optional<worked_out> second_summer::bundles(const std::string& name) const {
    for (const std::string stage : {"registered", "received", "rejected"}) {
        if (name == stage + "_bundles") return rows("Bundles", stage + "_on");
        if (name == stage + "_estimate") return hefts("Bundles", "estimate", stage + "_on");
    }
    if (name == "baled_bundles") return rows("Bundles", "baled_on");
    const auto& of = the("Bundles");
    const auto left = dated(of, "left_on", when::to_date);
    const auto here = both(dated(of, "received_on", when::to_date), [&](const auto& row) { return !left(row); });
    const std::string way = "Bundles received by the last day whose 'Left on' is empty or later";
    if (name == "on_hand_bundles") return worked_out{count(of, here), "rows of " + way};
    if (name == "on_hand_estimate") return worked_out{weight{sum(of, "estimate", here)}, "'Estimate' of " + way};
    return std::nullopt;
}

std::optional<worked_out> second_summer::growers(const std::string& name) const {
    const auto some = [](const table& of, std::string_view column) {
        return row_test{[at = of.column(column)](const std::vector<cell>& row) { return units_in(row[at]) > 0; }};
    };
    const auto& of = the("By grower");
    const auto known = says(of, "grower", std::string{unknown_grower}, false);
    if (name == "growers_served")
        return worked_out{count(of, both(known, some(of, "received"))), "growers with 'Received' above 0"};
    if (name == "growers_new")
        return worked_out{count(of, both(known, dated(of, "first_received", when::in_quarter))),
                          "growers with 'First received' in the quarter"};
    if (name == "growers_returning")
        return worked_out{count(of, both(both(known, some(of, "received")), dated(of, "first_received", when::before))),
                          "growers with 'Received' above 0 and 'First received' before the quarter"};
    if (name == "growers_to_date")
        return worked_out{count(of, both(known, dated(of, "first_received", when::to_date))),
                          "growers with 'First received' by the last day"};
    const auto& sites = the("By site");
    if (name == "sites_active")
        return worked_out{count(sites, some(sites, "receipts")), "sites with 'Receipts' above 0"};
    return std::nullopt;
}

std::optional<worked_out> second_summer::bales(const std::string& name) const {
    if (name == "bales_made") return rows("Bales", "made_on");
    if (name == "bales_weighed") return rows("Bales", "weighed_on");
    if (name == "bale_net_weight") return hefts("Bales", "net", "weighed_on");
    if (name == "bale_estimate") return hefts("Bales", "estimate", "weighed_on");
    if (name == "residue_weight") return hefts("Rejects", "residue", "date");
    const auto& of = the("Bales");
    if (name == "bales_on_hand") {
        const auto gone = dated(of, "shipped_on", when::to_date);
        return worked_out{
            count(of, both(dated(of, "made_on", when::to_date), [&](const auto& row) { return !gone(row); })),
            "Bales made by the last day whose 'Shipped on' is empty or later"};
    }
    if (name == "diverted_weight")
        return worked_out{weight{diverted(when::in_quarter)}, diverted_way("in the quarter")};
    return std::nullopt;
}

std::int64_t second_summer::diverted(when which) const {
    const auto& rejects = the("Rejects");
    const bool by_acceptance = s_.the_award->counted_when == counting::accepted;
    const auto& of = the(by_acceptance ? "Acceptances" : "Bales");
    return sum(of, by_acceptance ? "weight" : "net", dated(of, by_acceptance ? "date" : "counted_on", which)) -
           sum(rejects, "residue", dated(rejects, "counted_on", which));
}

std::string second_summer::diverted_way(const std::string& days) const {
    return (s_.the_award->counted_when == counting::accepted ? "weight of Acceptances "
                                                             : "'Net' of Bales with 'Counted on' ") +
           days + ", less 'Residue' of Rejects with 'Counted on' " + days;
}

std::optional<worked_out> second_summer::tons(const std::string& name) const {
    const auto in_tons = [&](std::int64_t units, std::string way) {
        return worked_out{quantity::short_tons(weight{units}, s_.the_award->unit),
                          std::move(way) + ", in tons of 2,000 lb"};
    };
    if (name == "diverted_tons") return in_tons(diverted(when::in_quarter), diverted_way("in the quarter"));
    if (name == "diverted_tons_to_date") return in_tons(diverted(when::to_date), diverted_way("by the last day"));
    const auto& bales = the("Bales");
    if (name == "shipped_tons")
        return in_tons(sum(bales, "net", dated(bales, "shipped_and_weighed_on", when::in_quarter)),
                       "'Net' of Bales with 'Shipped and weighed on' in the quarter");
    const auto& taken = the("Acceptances");
    if (name == "accepted_tons")
        return in_tons(sum(taken, "weight", dated(taken, "date", when::in_quarter)),
                       "weight of Acceptances in the quarter");
    return std::nullopt;
}

} // namespace tarewell::figures
