#include "audit_growers.hpp"
#include "command_audit.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    audit_request request;
    std::string tolerance = "10%";
};

json grower_json(const grower_line& line) {
    const auto& ratio = line.ratio;
    json made{{"grower", line.id},
              {"bundles", ratio.bundles},
              {"weighed_bundles", ratio.weighed_bundles},
              {"estimate", quantity::text_of(line.claim)},
              {"scale_share", quantity::text_of(line.scale_share)}};
    put_interval(made, ratio.to_claim, line.reason);
    made["ratio_to_basis"] = ratio.to_bases ? number(ratio.to_bases->ratio) : json(nullptr);
    made["low_to_basis"] = ratio.to_bases ? number(ratio.to_bases->low) : json(nullptr);
    made["high_to_basis"] = ratio.to_bases ? number(ratio.to_bases->high) : json(nullptr);
    made["p_outside"] = ratio.to_bases ? number(ratio.p_outside) : json(nullptr);
    made["call"] = words_of(line.call);
    made["with"] = line.with;
    if (!line.reason.empty()) made["reason"] = line.reason;
    return made;
}

json groups_json(const audit_view& seen, const audit::grower_report& report) {
    auto list = json::array();
    for (const auto& group : report.groups) {
        json made{{"growers", json::array()}, {"always_proportional", group.always_proportional}};
        for (const int grower : group.growers)
            made["growers"].push_back(seen.grower_id(grower));
        put_interval(made, group.to_claim, seen.fitted() ? "nothing of this group was weighed" : seen.reason());
        made["p_outside"] = group.to_bases ? number(group.p_outside) : json(nullptr);
        made["call"] = words_of(group.call);
        list.push_back(std::move(made));
    }
    return list;
}

std::string closing_sentence(const grower_lines& growers) {
    std::size_t unweighed = 0;
    for (const auto& line : growers.lines)
        unweighed += line.ratio.weighed_bundles == 0 ? 1 : 0;
    auto text = growers.called == 0
                    ? std::string{"Nobody is called: no ratio is surely outside the tolerance. "}
                    : fmt::format("{} called; about {} of such calls may be wrong (in a first season somewhat more). ",
                                  counted(static_cast<std::size_t>(growers.called), "grower or group is",
                                          "growers or groups are"),
                                  fmt::format("{:.0f} %", 100.0 * growers.expected_false_share));
    text += "\"Can't tell yet\" is not \"fits\": it means that the scale has not said enough, because most bales mix "
            "growers. ";
    if (unweighed > 0)
        text += fmt::format("Of {} nothing was weighed yet, so nothing can be said. ",
                            counted(unweighed, "grower", "growers"));
    return text + "A missing bundle doesn't show here; count pieces for that.";
}

json whole_json(const audit_view& seen, const grower_lines& growers, double tolerance) {
    auto made = seen.head();
    made["tolerance"] = tolerance;
    made["fit"] = fit_json(seen);
    auto& list = made["growers"] = json::array();
    for (const auto& line : growers.lines)
        list.push_back(grower_json(line));
    made["groups"] = groups_json(seen, growers.report);
    made["expected_false_share"] = growers.called > 0 ? number(growers.expected_false_share) : json(nullptr);
    if (growers.called == 0) made["expected_false_share_reason"] = "nobody is called";
    if (!seen.fitted()) made["reason"] = seen.reason();
    made["sentence"] = closing_sentence(growers);
    return made;
}

void print_opening(const audit_view& seen, double tolerance, std::ostream& out) {
    out << fmt::format(
        "Scale weight over claim by grower, from {}; {}.\nBelow 1, claims ran high. Most bales mix growers, "
        "so each ratio is worked out from all bales together; its interval holds\nthe truth about 19 times in "
        "20.\n",
        seen.weighings_in_words(), seen.days_in_words());
    if (!seen.fitted()) {
        out << seen.reason() << "\n\n";
        return;
    }
    if (seen.model.fit().approximate) out << seen.model.fit().sentence << '\n';
    out << fmt::format(
        "A grower is called against the mean of the bases that their estimates rest on (here: {}), with a\n"
        "tolerance of {}; only the program is held against 1 (tarewell audit constants). Nobody answers for "
        "the\nprogram's constant.\n\n",
        means_in_words(seen), percent_text(tolerance));
}

void print_groups(const audit_view& seen, const grower_lines& growers, std::ostream& out) {
    for (const auto& group : growers.report.groups) {
        std::vector<std::string> ids;
        for (const int grower : group.growers)
            ids.push_back(seen.grower_id(grower));
        out << fmt::format("Together: {}: ratio {}, {}; {}.\n", fmt::join(ids, ", "), ratio_text(group.to_claim),
                           interval_text(group.to_claim), words_of(group.call));
    }
    if (!growers.report.groups.empty()) out << '\n';
}

void run_growers(const options& how, context& with) {
    const double tolerance = read_tolerance(how.tolerance);
    const auto seen = view_audit(how.request, with);
    const auto growers = lines_of_growers(seen, tolerance);
    if (how.request.json) {
        with.out << whole_json(seen, growers, tolerance).dump(2) << '\n';
        return;
    }
    print_opening(seen, tolerance, with.out);
    text_table table{{"grower", "bundles", "weighed", "claim", "scale share", "ratio", "interval", "to basis",
                      "P outside", "call", "can't be told from"}};
    for (const auto& line : growers.lines)
        table.add({line.id, fmt::format("{}", line.ratio.bundles), fmt::format("{}", line.ratio.weighed_bundles),
                   quantity::text_of(line.claim), quantity::text_of(line.scale_share), ratio_text(line.ratio.to_claim),
                   interval_text(line.ratio.to_claim), ratio_text(line.ratio.to_bases),
                   line.ratio.to_bases ? fmt::format("{:.0f} %", 100.0 * line.ratio.p_outside) : "-",
                   words_of(line.call), fmt::format("{}", fmt::join(line.with, " "))});
    table.print(with.out);
    with.out << '\n';
    print_groups(seen, growers, with.out);
    with.out << closing_sentence(growers) << '\n';
}

} // namespace

void add_audit_growers(const command& audit, context& with) {
    auto sub = audit.add("growers", "whose estimates run high or low, and how sure that is");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("--tolerance", how.tolerance,
              "how far from the basis's mean is still fine: 10%, 10 and 0.1 all mean ten percent")
        .shows_default();
    sub.does([&how, &with] { run_growers(how, with); });
}

} // namespace tarewell::cli
