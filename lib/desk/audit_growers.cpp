#include "desk/audit.hpp"
#include "desk/grower_calls.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

value groups_of(const grower_lines& growers) {
    auto list = value::array();
    for (const auto& group : growers.groups)
        list.push_back({{"growers", group.growers}, {"always_proportional", group.always_proportional}});
    return list;
}

value classes_of(const figures::fair_audit& fair) {
    auto list = value::array();
    for (std::size_t c = 0; c < fair.classes.size(); ++c) {
        const double ratio = c < fair.report.class_ratio.size() ? fair.report.class_ratio[c] : 0.0;
        list.push_back({{"basis", records::name_of(fair.classes[c].basis)},
                        {"structure", fair.classes[c].structure},
                        {"ratio", ratio > 0.0 ? value{ratio} : value{}}});
    }
    return list;
}

std::string closing_sentence(const grower_lines& growers) {
    const auto unweighed = static_cast<std::size_t>(std::count_if(
        growers.lines.begin(), growers.lines.end(), [](const auto& line) { return line.weighed_bundles == 0; }));
    auto text = growers.called == 0
                    ? std::string{"Nobody is called: no ratio is surely outside the tolerance. "}
                    : fmt::format("{} called; about {:.0f} % of such calls may be wrong. ",
                                  counted(static_cast<std::size_t>(growers.called), "grower is", "growers are"),
                                  100.0 * growers.expected_false_share);
    text += "\"Too little data\" is not \"fits\": the scale can't tell yet, because most bales mix growers. ";
    if (unweighed > 0)
        text += fmt::format("Of {} nothing was weighed yet, so nothing can be said. ",
                            counted(unweighed, "grower", "growers"));
    return text + "A missing bundle doesn't show here; count pieces for that.";
}

void say_opening(answer& made, const audit_view& seen, const grower_lines& growers, double tolerance) {
    made.say("Scale weight over claim by grower, from {}; {}.\nBelow 1, claims ran high. Most bales mix growers, "
             "so each ratio is worked out from all bales together, with its 95 % interval.\n",
             seen.weighings_in_words(), seen.days_in_words());
    if (growers.fair.report.status == audit::slip_status::too_few) {
        made.say("{}\n\n", why_nothing_is_said(seen, growers));
        return;
    }
    if (const auto rough = roughness_in_words(growers.fair); !rough.empty()) made.say("{}\n", rough);
    made.say("A grower is held against others who claimed in the same way for the same kind of structure (weight over "
             "claim:\n{}), less what is their site's doing; tolerance {}. Only the program is held against 1 (tarewell "
             "audit constants).\n\n",
             means_in_words(growers.fair), percent_text(tolerance));
}

table table_of(const grower_lines& growers, const std::string& no_ratio) {
    table made{{"grower", "bundles", "weighed=weighed_bundles", "=bales", "claim=estimate", "scale share=scale_share",
                "relative to method=ratio", "95 % interval=low", "=high", "outside tolerance=p_outside", "=p_runs_high",
                "=p_runs_low", "=p_slip", "call", "note", "=letter", "=with", "=reason"}};
    for (const auto& line : growers.lines) {
        const auto& fair = line.fair;
        const auto known = [&](std::string text, double number) {
            return line.has_ratio ? cell{std::move(text), number} : cell{"-", nullptr};
        };
        made.add({line.id, line.bundles, line.weighed_bundles, fair.bales, line.claim, line.scale_share,
                  known(figures::ratio_in_words(fair.ratio), fair.ratio),
                  known(fmt::format("{} to {}", figures::ratio_in_words(fair.low), figures::ratio_in_words(fair.high)),
                        fair.low),
                  known({}, fair.high), known(figures::chance_in_words(line.p_outside()), line.p_outside()),
                  known({}, fair.p_runs_high), known({}, fair.p_runs_low), known({}, fair.p_slip),
                  figures::words_of(line.call), line.note, fair.letter, line.with,
                  cell::only_if(!line.has_ratio, no_ratio.empty() ? line.note : no_ratio)});
    }
    return made;
}

} // namespace

answer audit_growers(const audit_view& seen, double tolerance) {
    const auto growers = lines_of_growers(seen, tolerance);
    const auto sentence = closing_sentence(growers);
    const auto no_ratio = why_nothing_is_said(seen, growers);
    answer made;
    made.data = seen.head();
    made.data["tolerance"] = tolerance;
    made.data["fit"] = fit_of(seen);
    made.data["method"] = growers.fair.report.sentence;
    made.data["classes"] = classes_of(growers.fair);
    say_opening(made, seen, growers, tolerance);
    made.tell("growers", table_of(growers, no_ratio));
    made.data["groups"] = groups_of(growers);
    made.data["checks"] = checks_for_machines(growers.checks);
    made.data["expected_false_share"] = growers.called > 0 ? value{growers.expected_false_share} : value{};
    if (growers.called == 0) made.data["expected_false_share_reason"] = "nobody is called";
    if (!no_ratio.empty()) made.data["reason"] = no_ratio;
    made.data["sentence"] = sentence;
    say_checks(made, growers.checks);
    made.say("\n{}\n", sentence);
    return made;
}

} // namespace tarewell::desk
