#include "desk/audit.hpp"
#include "desk/grower_calls.hpp"

#include <fmt/ranges.h>

namespace tarewell::desk {
namespace {

std::vector<std::string> ids_of(const audit_view& seen, const audit::grower_group& group) {
    std::vector<std::string> ids;
    for (const int grower : group.growers)
        ids.push_back(seen.grower_id(grower));
    return ids;
}

value groups_of(const audit_view& seen, const audit::grower_report& report) {
    auto list = value::array();
    for (const auto& group : report.groups) {
        value made{{"growers", ids_of(seen, group)}, {"always_proportional", group.always_proportional}};
        put_interval(made, group.to_claim, seen.fitted() ? "nothing of this group was weighed" : seen.reason());
        made["p_outside"] = group.to_bases ? value{group.p_outside} : value{};
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

void say_opening(answer& made, const audit_view& seen, double tolerance) {
    made.say("Scale weight over claim by grower, from {}; {}.\nBelow 1, claims ran high. Most bales mix growers, "
             "so each ratio is worked out from all bales together; its interval holds\nthe truth about 19 times in "
             "20.\n",
             seen.weighings_in_words(), seen.days_in_words());
    if (!seen.fitted()) {
        made.say("{}\n\n", seen.reason());
        return;
    }
    if (seen.model.fit().approximate) made.say("{}\n", seen.model.fit().sentence);
    made.say("A grower is called against the mean of the bases that their estimates rest on (here: {}), with a\n"
             "tolerance of {}; only the program is held against 1 (tarewell audit constants). Nobody answers for "
             "the\nprogram's constant.\n\n",
             means_in_words(seen), percent_text(tolerance));
}

table table_of(const grower_lines& growers) {
    table made{{"grower", "bundles", "weighed=weighed_bundles", "claim=estimate", "scale share=scale_share", "ratio",
                "interval=low", "=high", "=reason", "to basis=ratio_to_basis", "=low_to_basis", "=high_to_basis",
                "P outside=p_outside", "call", "can't be told from=with", "=reason"}};
    for (const auto& line : growers.lines) {
        const auto& ratio = line.ratio;
        const auto [is, low, high, reason] = interval_cells(ratio.to_claim, line.reason);
        const auto to_bases = interval_cells(ratio.to_bases, {});
        made.add({line.id, ratio.bundles, ratio.weighed_bundles, line.claim, line.scale_share, is, low, high, reason,
                  to_bases[0], to_bases[1], to_bases[2],
                  ratio.to_bases ? cell{fmt::format("{:.0f} %", 100.0 * ratio.p_outside), ratio.p_outside}
                                 : cell{"-", nullptr},
                  words_of(line.call), cell{fmt::format("{}", fmt::join(line.with, " ")), line.with},
                  cell::only_if(ratio.to_claim && !line.reason.empty(), line.reason)});
    }
    return made;
}

} // namespace

answer audit_growers(const audit_view& seen, double tolerance) {
    const auto growers = lines_of_growers(seen, tolerance);
    const auto sentence = closing_sentence(growers);
    answer made;
    made.data = seen.head();
    made.data["tolerance"] = tolerance;
    made.data["fit"] = fit_of(seen);
    say_opening(made, seen, tolerance);
    made.tell("growers", table_of(growers));
    made.data["groups"] = groups_of(seen, growers.report);
    made.data["expected_false_share"] = growers.called > 0 ? value{growers.expected_false_share} : value{};
    if (growers.called == 0) made.data["expected_false_share_reason"] = "nobody is called";
    if (!seen.fitted()) made.data["reason"] = seen.reason();
    made.data["sentence"] = sentence;
    made.say("\n");
    for (const auto& group : growers.report.groups)
        made.say("Together: {}: ratio {}, {}; {}.\n", fmt::join(ids_of(seen, group), ", "), ratio_text(group.to_claim),
                 interval_text(group.to_claim), words_of(group.call));
    made.say("{}{}\n", growers.report.groups.empty() ? "" : "\n", sentence);
    return made;
}

} // namespace tarewell::desk
