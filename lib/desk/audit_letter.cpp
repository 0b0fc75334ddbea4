#include "desk/audit.hpp"
#include "desk/grower_calls.hpp"

#include <fmt/ranges.h>

#include <algorithm>

namespace tarewell::desk {
namespace {

const char* words_of(audit::asked_cause cause) {
    using enum audit::asked_cause;
    switch (cause) {
    case second_layer:
        return "a second layer of film came off that the form doesn't show";
    case a_dimension:
        return "a length, width or rise on the form should be another";
    case thicker_film:
        return "the film was thicker than usual";
    case wet_or_dirty:
        return "it was wet, or soil lay on it";
    case sizes:
        return "the sizes on the form are those of the cover";
    case a_part_not_brought:
        return "a part of the cover was not brought in";
    case thinner_film:
        return "the film was thinner than usual";
    case layers_counted_twice:
        return "the layers were counted twice";
    }
    return "";
}

std::string joined_by_or(const std::vector<std::string>& parts) {
    if (parts.size() == 1) return parts.front();
    return fmt::format("{}, or whether {}", fmt::join(parts.begin(), std::prev(parts.end()), ", whether "),
                       parts.back());
}

/// A question, kind and true; never about the program's constant.
std::string letter_for(const grower_line& line, const std::string& unit) {
    std::vector<std::string> asked;
    for (const auto cause : line.fair.ask)
        asked.emplace_back(words_of(cause));
    const auto question = asked.empty()
                              ? std::string{"Could you look over the form once more with us? We can't tell from the "
                                            "scale what made the difference."}
                              : fmt::format("Do you remember whether {}?", joined_by_or(asked));
    return fmt::format("Thank you for bringing in {} of film. Weighed beside film that was estimated in the same way, "
                       "yours comes to about {}, so it is {} than we expected. {} We gladly measure a cover with you.",
                       counted(static_cast<std::size_t>(line.bundles), "bundle", "bundles"),
                       figures::share_in_words(line.fair, unit),
                       line.call == audit::fair_call::runs_high ? "lighter" : "heavier", question);
}

/// Why nothing is to be sent.
std::string why_no_letter(const grower_line& line) {
    if (line.call == audit::fair_call::check_first) return line.note;
    if (!line.called())
        return fmt::format("{}{}{}", figures::words_of(line.call), line.note.empty() ? "" : "; ", line.note);
    return line.fair.bales < 2 ? "only one weighed bale holds this grower's film"
                               : "the call is not sure enough for a letter, or a ticket behind it is in doubt";
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
    const auto letter = line.fair.letter ? letter_for(line, seen.unit()) : std::string{};
    const auto reason = line.fair.letter ? std::string{} : why_no_letter(line);
    const auto share = line.has_ratio ? figures::share_in_words(line.fair, seen.unit()) : std::string{};
    answer made;
    made.data = seen.head();
    made.data["grower"] = grower;
    made.data["letter"] = letter.empty() ? value{} : value{letter};
    if (!reason.empty()) made.data["reason"] = reason;
    made.data["call"] = figures::words_of(line.call);
    made.data["share"] = share.empty() ? value{} : value{share};
    for (const auto& [name, number] : {std::pair{"ratio", line.fair.ratio},
                                       {"low", line.fair.low},
                                       {"high", line.fair.high},
                                       {"p_outside", line.p_outside()}})
        made.data[name] = line.has_ratio ? value{number} : value{};
    made.data["estimate"] = line.claim;
    made.data["scale_share"] = line.scale_share;
    made.data["with"] = line.with;
    if (letter.empty()) {
        made.say("No letter for {}: {}.\n", grower, reason);
        if (!share.empty())
            made.say("Beside film that was estimated in the same way theirs comes to about {}.\n", share);
        return made;
    }
    constexpr const char* note = "For you, not for the letter: the grower is held against others who claimed in the "
                                 "same way for the same kind of structure, so the program's own constant is no part of "
                                 "it, nor is the site. It asks, since the scale can't say why a claim differs.";
    made.data["sentence"] = note;
    made.say("{}\n\n{}\nWhat was weighed: {}.\n", letter, note, seen.days_in_words());
    return made;
}

} // namespace tarewell::desk
