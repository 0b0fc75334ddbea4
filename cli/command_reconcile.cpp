#include "reconcile/side_by_side.hpp"
#include "season_view.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;
using reconcile::side_by_side;

struct options {
    std::string by = "bale", quarter;
    std::optional<ledger::entry_no> as_of;
    bool json = false;
};

json stage(const reconcile::at_stage& of) {
    return {{"bundles", of.bundles}, {"estimate", quantity::text_of(of.estimate)}};
}

json line_json(const side_by_side& line, const std::string& by, const ledger::season& season) {
    json each;
    each[by] = line.id;
    if (!line.name.empty()) each["name"] = line.name;
    each["registered"] = stage(line.registered);
    each["received"] = stage(line.received);
    each["rejected"] = stage(line.rejected);
    each["baled"] = stage(line.baled);
    each["weighed"] = stage(line.weighed);
    each["scale_weight"] = quantity::text_of(line.scale_weight);
    each["difference"] = quantity::text_of(line.difference());
    const auto ratio = line.ratio();
    each["ratio"] = ratio ? json(*ratio) : json(nullptr);
    if (!ratio) each["reason"] = "nothing with an estimate was weighed";
    if (by != "bale") return each;
    each["weighed_on"] = line.weighed_on ? json(quantity::text_of(*line.weighed_on)) : json(nullptr);
    auto& parts = each["bundles"] = json::array();
    for (const auto& part : line.parts) {
        json bundle{{"bundle", season.at(part.bundle).id.text()}, {"estimate", quantity::text_of(part.estimate)}};
        bundle["spot_weight"] = part.spot ? json(quantity::text_of(*part.spot)) : json(nullptr);
        bundle["share"] = part.share ? json(quantity::text_of(*part.share)) : json(nullptr);
        parts.push_back(std::move(bundle));
    }
    return each;
}

std::vector<std::string> cells_of(const side_by_side& line) {
    const auto ratio = line.ratio();
    return {line.id,
            line.name,
            fmt::format("{}", line.registered.bundles),
            fmt::format("{}", line.received.bundles),
            fmt::format("{}", line.rejected.bundles),
            fmt::format("{}", line.baled.bundles),
            fmt::format("{}", line.weighed.bundles),
            quantity::text_of(line.weighed.estimate),
            quantity::text_of(line.scale_weight),
            quantity::text_of(line.difference()),
            ratio ? fmt::format("{:.3f}", *ratio) : "-"};
}

void print_table(const std::vector<side_by_side>& lines, const side_by_side& total, const options& how,
                 const season_view& seen, std::ostream& out) {
    text_table table{{how.by, how.by == "bale" ? "pressed at" : "name", "registered", "received", "rejected", "baled",
                      "weighed", "estimate", "scale", "difference", "ratio"}};
    for (const auto& line : lines)
        table.add(cells_of(line));
    table.add(cells_of(total));
    out << fmt::format("Bundles registered, received, rejected, baled and weighed; estimate and scale of what was "
                       "weighed, in {}.\nRatio is scale over estimate: below 1, claims ran high.\n\n",
                       quantity::name_of(seen.award().unit));
    table.print(out);
    if (how.by == "bale" && !how.quarter.empty())
        out << "\nBales made or weighed in the quarter; only those weighed in it count in its figures.\n";
}

void run_reconcile(const options& how, context& with) {
    const auto by = reconcile::read_grouping(how.by);
    const auto seen = view(with, how.as_of);
    std::optional<quantity::span_of_days> days;
    if (!how.quarter.empty()) days = seen.award().calendar().days_of(quarter_named(how.quarter));
    const auto lines = reconcile::reconcile_by(*by, seen.season, seen.reckoning, days);
    const auto total = reconcile::total_of(lines);
    if (!how.json) {
        print_table(lines, total, how, seen, with.out);
        return;
    }
    json whole{{"by", how.by}, {"unit", quantity::name_of(seen.award().unit)}, {"as_of", seen.as_of}};
    if (!how.quarter.empty()) whole["quarter"] = how.quarter;
    auto& list = whole["lines"] = json::array();
    for (const auto& line : lines)
        list.push_back(line_json(line, how.by, seen.season));
    whole["total"] = line_json(total, "of", seen.season);
    with.out << whole.dump(2) << '\n';
}

} // namespace

void add_reconcile(const command& program, context& with) {
    auto sub = program.add("reconcile", "estimate, receipt, bale and scale side by side");
    auto& how = program.keep<options>();
    sub.value("--by", how.by, "bale, grower, site, registration, town, structure or film")
        .one_of({"bale", "grower", "site", "registration", "town", "structure", "film"});
    sub.value("--quarter", how.quarter, "only what is dated in this quarter, such as 2026-Q3");
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_reconcile(how, with); });
}

} // namespace tarewell::cli
