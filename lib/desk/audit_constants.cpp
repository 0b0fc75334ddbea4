#include "desk/audit.hpp"
#include "estimate/cover.hpp"

#include <map>
#include <set>

namespace tarewell::desk {
namespace {

using interval = std::optional<audit::ratio_interval>;

/// Bundles of one basis, or of one basis and film or structure, held against the scale.
struct class_line {
    std::string by, label; ///< by: "basis", "film", "structure"
    records::basis basis = records::basis::constant;
    int weighed_bundles = 0;
    double weighed_estimate = 0;
    interval ratio;
};

/// What a bundle's covers say in one column; "mixed" where they differ, empty where they say nothing.
std::string of_covers(const records::season& season, records::bundle_place bundle, std::string records::cover::*column) {
    std::set<std::string> said;
    for (const auto index : season.at(season.at(bundle).registration).covers)
        said.insert(season.covers[index].*column);
    if (said.size() > 1) return "mixed";
    return said.empty() ? std::string{} : *said.begin();
}

std::vector<class_line> lines_of(const audit::pooled_season& season, const audit::pooled_model& model) {
    std::vector<class_line> lines(static_cast<std::size_t>(season.bases));
    const auto bases = model.bases();
    for (std::size_t b = 0; b < lines.size(); ++b) {
        lines[b].weighed_estimate = bases[b].weighed_estimate;
        if (bases[b].weighed_estimate > 0) lines[b].ratio = bases[b].to_claim;
    }
    for (const auto& each : season.bundles)
        if (each.bale >= 0) ++lines[static_cast<std::size_t>(each.basis)].weighed_bundles;
    return lines;
}

std::vector<class_line> by_basis(const audit_view& seen) {
    auto lines = lines_of(seen.input.season, seen.model);
    for (std::size_t b = 0; b < lines.size(); ++b) {
        lines[b].by = "basis";
        lines[b].basis = seen.input.bases[b];
        lines[b].label = seen.basis_name(static_cast<int>(b));
    }
    return lines;
}

/// The model once more with a mean for each basis and film (or structure).
std::vector<class_line> by_covers(const audit_view& seen, const std::string& by, std::string records::cover::*column) {
    auto season = seen.input.season;
    std::map<std::pair<records::basis, std::string>, int> number;
    for (std::size_t b = 0; b < season.bundles.size(); ++b) {
        const auto place = seen.input.bundles[b];
        const auto basis = seen.seen.reckoning.at(place).claim.basis;
        const auto said = basis == records::basis::own ? std::string{} : of_covers(seen.seen.season, place, column);
        season.bundles[b].basis = number.try_emplace({basis, said}, static_cast<int>(number.size())).first->second;
    }
    if (number.size() <= seen.input.bases.size()) return {};
    season.bases = static_cast<int>(number.size());
    auto lines = lines_of(season, audit::pooled_model{season, figures::audit_options()});
    std::vector<class_line> sorted;
    for (const auto& [which, place] : number) {
        if (which.first == records::basis::own) continue;
        auto line = lines[static_cast<std::size_t>(place)];
        line.by = by;
        line.basis = which.first;
        line.label =
            fmt::format("{}, {}", records::name_of(which.first), which.second.empty() ? "not said" : which.second);
        sorted.push_back(std::move(line));
    }
    return sorted;
}

struct program_constants {
    double area_weight, curvature, clean_4, clean_6;
};

program_constants constants_in_use(const audit_view& seen) {
    const bool last_day = seen.days && seen.days->to != quantity::day::max();
    const auto in_use = seen.seen.season.constants_on(last_day ? std::optional{seen.days->to} : std::nullopt);
    const auto real = [](const quantity::decimal& of) {
        return quantity::nearest_double(of);
    };
    const auto clean = [&](std::int64_t mil) {
        return static_cast<double>(estimate::clean_area_weight_lb_per_ft2({{mil, 0}}, in_use.density_g_per_cm3));
    };
    return {real(in_use.area_weight_lb_per_ft2), real(in_use.curvature_factor), clean(4), clean(6)};
}

interval scaled(const interval& of, double by) {
    return of ? interval{{of->ratio * by, of->low * by, of->high * by}} : std::nullopt;
}

std::string closing_sentence(const audit_view& seen, const std::vector<class_line>& lines,
                             const program_constants& program) {
    if (!seen.fitted()) return "No constant can be suggested: " + seen.reason();
    std::string text;
    for (const auto& line : lines) {
        if (line.by != "basis" || line.basis != records::basis::constant || !line.ratio) continue;
        text =
            line.ratio->high < 1
                ? fmt::format("The constant of {:.3g} lb/ft2 claims more than the scale finds; that is the program's "
                              "doing and no grower's. ",
                              program.area_weight)
            : line.ratio->low > 1
                ? fmt::format("The constant of {:.3g} lb/ft2 claims less than the scale finds. ", program.area_weight)
                : fmt::format("The scale does not contradict the constant of {:.3g} lb/ft2. ", program.area_weight);
    }
    return text +
           "Area weight and curvature factor can't be told apart by weighing: each suggestion takes the other as "
           "right. "
           "What is more than clean film may be dirt, water, or film that covers no floor; the scale can't say which.";
}

value fields_of(const class_line& line, const program_constants& program, const std::string& reason) {
    value made{{"by", line.by},
               {"class", line.label},
               {"basis", records::name_of(line.basis)},
               {"weighed_bundles", line.weighed_bundles},
               {"weighed_estimate", weight_text(line.weighed_estimate)}};
    put_interval(made, line.ratio,
                 reason.empty() ? "none of these was weighed, or too few to fit so many classes" : reason);
    if (line.basis != records::basis::constant || !line.ratio) return made;
    const auto put = [&](const char* name, double constant) {
        const auto now = *scaled(line.ratio, constant);
        made[name] = {{"suggested", now.ratio}, {"low", now.low}, {"high", now.high}, {"in_use", constant}};
    };
    put("area_weight_lb_per_ft2", program.area_weight);
    put("curvature_factor", program.curvature);
    made["over_clean_4_mil"] = line.ratio->ratio * program.area_weight / program.clean_4;
    made["over_clean_6_mil"] = line.ratio->ratio * program.area_weight / program.clean_6;
    return made;
}

table table_of(const std::vector<class_line>& lines, const program_constants& program) {
    table made{
        {"by=", "class=", "weighed=", "claim=", "ratio=", "interval=", "area weight=", "interval=", "curvature="}};
    for (const auto& line : lines) {
        const auto area =
            line.basis == records::basis::constant ? scaled(line.ratio, program.area_weight) : std::nullopt;
        const auto curve = line.basis == records::basis::constant ? scaled(line.ratio, program.curvature) : std::nullopt;
        made.add({line.by, line.label, line.weighed_bundles, fmt::format("{:.0f}", line.weighed_estimate),
                  ratio_text(line.ratio), interval_text(line.ratio), area ? fmt::format("{:.4f}", area->ratio) : "-",
                  area ? fmt::format("{:.4f} to {:.4f}", area->low, area->high) : "-",
                  curve ? fmt::format("{:.2f}", curve->ratio) : "-"});
    }
    return made;
}

} // namespace

answer audit_constants(const audit_view& seen) {
    const auto program = constants_in_use(seen);
    auto lines = by_basis(seen);
    if (seen.fitted())
        for (auto& more :
             {by_covers(seen, "film", &records::cover::film), by_covers(seen, "structure", &records::cover::structure)})
            lines.insert(lines.end(), more.begin(), more.end());
    const auto sentence = closing_sentence(seen, lines, program);
    answer made;
    made.data = seen.head();
    made.data["in_use"] = {{"area_weight_lb_per_ft2", program.area_weight},
                           {"curvature_factor", program.curvature},
                           {"clean_4_mil_lb_per_ft2", program.clean_4},
                           {"clean_6_mil_lb_per_ft2", program.clean_6}};
    auto& list = made.data["classes"] = value::array();
    for (const auto& line : lines)
        list.push_back(fields_of(line, program, seen.reason()));
    if (!seen.fitted()) made.data["reason"] = seen.reason();
    made.data["sentence"] = sentence;
    made.say(
        "The program's own numbers against the scale, from {}; {}.\nRatio is scale weight over claim, held against 1. "
        "Where the program's area weight made the claim, the table gives what\nit would have to be, in lb/ft2 "
        "(now {:.3g}; clean film of 4 mil weighs {:.4f}, of 6 mil {:.4f}), or the curvature\nfactor (now {:.3g}).\n\n",
        seen.weighings_in_words(), seen.days_in_words(), program.area_weight, program.clean_4, program.clean_6,
        program.curvature);
    made.show(table_of(lines, program));
    made.say("\n{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
