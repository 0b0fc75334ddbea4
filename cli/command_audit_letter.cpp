#include "audit_growers.hpp"
#include "command_audit.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    audit_request request;
    std::string grower, tolerance = "10%";
};

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

void run_letter(const options& how, context& with) {
    const double tolerance = read_tolerance(how.tolerance);
    const auto seen = view_audit(how.request, with);
    const auto place = seen.seen.season.find_grower(how.grower);
    if (!place)
        throw ledger::input_error(
            fmt::format("there is no grower '{}'; `tarewell list growers` shows all", how.grower));
    if (how.grower == ledger::unknown_grower)
        throw ledger::input_error("'unknown' stands for bundles without a label; there is nobody to write to");
    const auto growers = lines_of_growers(seen, tolerance);
    const auto found = std::find_if(growers.lines.begin(), growers.lines.end(),
                                    [&](const auto& each) { return each.id == how.grower; });
    if (found == growers.lines.end())
        throw ledger::input_error(
            fmt::format("grower '{}' has no bundle received in {}, so there is nothing to write about", how.grower,
                        seen.days_in_words()));
    const auto letter = letter_for(*found, tolerance);
    const std::string note = "For you, not for the letter: the call is against the mean of this grower's bases of "
                             "estimate, so the program's "
                             "own constant is no part of it; it can't say why a claim differs.";
    if (how.request.json) {
        auto made = seen.head();
        made["grower"] = how.grower;
        made["letter"] = letter;
        made["call"] = words_of(found->call);
        put_interval(made, found->ratio.to_bases, found->reason);
        made["p_outside"] = found->ratio.to_bases ? number(found->ratio.p_outside) : json(nullptr);
        made["estimate"] = quantity::text_of(found->claim);
        made["scale_share"] = quantity::text_of(found->scale_share);
        made["with"] = found->with;
        made["sentence"] = note;
        with.out << made.dump(2) << '\n';
        return;
    }
    with.out << letter << "\n\n";
    with.out << numbers_of(*found, seen.unit()) << "\n\n";
    with.out << note << '\n';
}

} // namespace

void add_audit_letter(const command& audit, context& with) {
    auto sub = audit.add("letter", "two kind sentences and numbers for a grower");
    auto& how = audit.keep<options>();
    add_audit_options(sub, how.request);
    sub.value("GROWER", how.grower, "the grower's id").required();
    sub.value("--tolerance", how.tolerance, "as for `audit growers`").shows_default();
    sub.does([&how, &with] { run_letter(how, with); });
}

} // namespace tarewell::cli
