#include "desk/audit.hpp"
#include "desk/grower_calls.hpp"

#include <algorithm>
#include <cmath>

namespace tarewell::desk {
namespace {

/// Two sentences for the grower, kind and true; never about the program's constant.
std::string letter_for(const grower_line& line, double tolerance) {
    const auto thanks = fmt::format("Thank you for bringing in {} of film. ",
                                    counted(static_cast<std::size_t>(line.ratio.bundles), "bundle", "bundles"));
    if (!line.ratio.to_bases || !line.reason.empty() || line.call == audit::grower_call::cannot_tell)
        return thanks + "Your film was mostly weighed together with others', so we can't yet say how your estimates "
                        "compare with the "
                        "scale, and nothing needs to be changed.";
    const auto percent = [&](double ratio) { return fmt::format("{:.0f} %", 100.0 * std::abs(ratio - 1.0)); };
    const auto& to = *line.ratio.to_bases;
    if (line.call == audit::grower_call::fits)
        return thanks + fmt::format("On the scale your bundles came out where estimates made in the same way usually "
                                    "do, within {}; please go on as you do.",
                                    percent_text(tolerance));
    const bool high = line.call == audit::grower_call::runs_high;
    const auto sentence = fmt::format(
        "On the scale your bundles came out about {} {} than estimates made in the same way usually do "
        "(somewhere from {:.2f} to {:.2f} times as heavy), so next time {}.",
        percent(to.ratio), high ? "lighter" : "heavier", to.low, to.high,
        high ? "a look at the lengths and widths on the form would help us, and we gladly measure a cover with you"
             : "a shake and a dry day before rolling may help, and we gladly measure a cover with you");
    return thanks + sentence;
}

/// The same numbers that the sentences rest on, so that they agree.
std::string numbers_of(const grower_line& line, const std::string& unit) {
    const auto& ratio = line.ratio;
    auto text =
        fmt::format("Your bundles: {}, of which {} weighed.",
                    counted(static_cast<std::size_t>(ratio.bundles), "bundle", "bundles"), ratio.weighed_bundles);
    if (!ratio.to_claim || !ratio.to_bases || !line.reason.empty()) return text;
    const double claim = ratio.weighed_estimate;
    return text + fmt::format(" They were estimated at {}; such estimates usually come to {} on the scale, and yours "
                              "came to about {}.",
                              rounded_text(claim, unit),
                              rounded_text(claim * ratio.to_claim->ratio / ratio.to_bases->ratio, unit),
                              rounded_text(claim * ratio.to_claim->ratio, unit));
}

const grower_line& line_of(const grower_lines& growers, const audit_view& seen, const std::string& grower) {
    const auto found =
        std::find_if(growers.lines.begin(), growers.lines.end(), [&](const auto& each) { return each.id == grower; });
    if (found != growers.lines.end()) return *found;
    throw records::input_error(fmt::format(
        "grower '{}' has no bundle received in {}, so there is nothing to write about", grower, seen.days_in_words()));
}

} // namespace

answer audit_letter(const audit_view& seen, const std::string& grower, double tolerance) {
    if (!seen.seen.season.find_grower(grower))
        throw records::input_error(fmt::format("there is no grower '{}'; `tarewell list growers` shows all", grower));
    if (grower == records::unknown_grower)
        throw records::input_error("'unknown' stands for bundles without a label; there is nobody to write to");
    const auto growers = lines_of_growers(seen, tolerance);
    const auto& line = line_of(growers, seen, grower);
    const auto letter = letter_for(line, tolerance);
    constexpr const char* note = "For you, not for the letter: the call is against the mean of this grower's bases of "
                                 "estimate, so the program's own constant is no part of it; it can't say why a claim "
                                 "differs.";
    answer made;
    made.data = seen.head();
    made.data["grower"] = grower;
    made.data["letter"] = letter;
    made.data["call"] = words_of(line.call);
    put_interval(made.data, line.ratio.to_bases, line.reason);
    made.data["p_outside"] = line.ratio.to_bases ? value{line.ratio.p_outside} : value{};
    made.data["estimate"] = line.claim;
    made.data["scale_share"] = line.scale_share;
    made.data["with"] = line.with;
    made.data["sentence"] = note;
    made.say("{}\n\n{}\n\n{}\n", letter, numbers_of(line, seen.unit()), note);
    return made;
}

} // namespace tarewell::desk
