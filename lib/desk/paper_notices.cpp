// What a grower is told of a bundle that was rejected.
#include "desk/paper_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <map>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

constexpr date::days usual_time{14};

struct advice {
    std::string_view word, next;
};
/// By a word of the reason: what keeps the next bundle from it (common practice, no source).
constexpr std::array<advice, 9> advices{{
    {"drip",
     "Pull drip tape and hose off before the film is rolled; they are another plastic and wind up in the machines."},
    {"twine", "Take all twine, rope and netting out, and tie the bundle with a strip of its own film."},
    {"wet",
     "Let the film dry on the structure or hung up, fold it on a dry day, and store it off the ground under cover."},
    {"soil", "Shake or sweep soil and plants off while the film is dry, and fold the dirty side in."},
    {"dirt", "Shake or sweep soil and plants off while the film is dry, and fold the dirty side in."},
    {"staple", "Pull staples, wire and clips out before folding; wear gloves and eye protection."},
    {"lath", "Take wood lath, wiggle wire and frame parts off before folding."},
    {"silage", "Keep silage and bunker film in bundles of their own and ask the office whether it is taken."},
    {"resin", "Keep other kinds of plastic apart: only the film that you registered goes into the bundle."},
}};

std::string next_step(const std::string& reason) {
    std::string said;
    for (const char c : reason)
        said += c >= 'A' && c <= 'Z' ? static_cast<char>(c - 'A' + 'a') : c;
    for (const auto& each : advices)
        if (said.find(each.word) != std::string::npos) return std::string{each.next};
    return "Ask the office what to do about it before you bring the next bundle.";
}

std::string where_it_is(const std::string& disposition) {
    if (disposition == "returned") return "It goes back to you: please fetch it, or take it along at once.";
    if (disposition == "landfilled") return "It was sent to the landfill.";
    if (disposition == "elsewhere") return "It was sent elsewhere.";
    return "It is kept apart until the office decides.";
}

struct told {
    std::string reason, disposition, where;
};

told what_was_said(const season& of, const reconcile::rejection& by) {
    if (by.by == kind::receipt) {
        const auto& receipt = of.receipts[by.index];
        return {receipt.reason, receipt.disposition,
                fmt::format("site {} ({})", of.at(receipt.site).id.text(), of.at(receipt.site).name)};
    }
    const auto& reject = of.rejects[by.index];
    return {reject.reason, reject.disposition,
            reject.stage == stage::site    ? "the site"
            : reject.stage == stage::baler ? "the baler"
                                           : "the processor"};
}

} // namespace

paper rejection_notices(const season_view& seen, const paper_wanted& wanted) {
    const auto& of = seen.season;
    const auto since = wanted.since.value_or(wanted.on - usual_time);
    std::map<std::string, value> letters; // by grower
    for (std::size_t i = 0; i < of.bundles.size(); ++i) {
        const auto& id = of.bundles[i].id.text();
        const auto& who = of.at(of.at(of.bundles[i].registration).grower);
        const bool named = std::find(wanted.bundles.begin(), wanted.bundles.end(), id) != wanted.bundles.end();
        if (!named && !wanted.bundles.empty()) continue;
        if (who.id.text() == unknown_grower || who.erased || (!wanted.grower.empty() && who.id.text() != wanted.grower))
            continue;
        for (const auto& each : seen.reckoning.bundles[i].rejections) {
            if (each.on > wanted.on || (!named && each.on < since)) continue;
            const auto said = what_was_said(of, each);
            auto row = bundle_fields(seen, bundle_place{i});
            row["rejected_on"] = each.on;
            row["where"] = said.where;
            row["reason"] = said.reason.empty() ? value{"not written down"} : value{said.reason};
            row["disposition"] = said.disposition;
            row["lies"] = where_it_is(said.disposition);
            row["next"] = next_step(said.reason);
            auto& letter = letters[who.id.text()];
            if (letter.is_null())
                letter = {{"grower", who.id.text()},
                          {"name", name_on_paper(who)},
                          {"farm", who.farm},
                          {"town", who.town},
                          {"rows", value::array()}};
            letter["rows"].push_back(std::move(row));
        }
    }
    paper made{"rejection",
               "Notice of a rejected bundle",
               {},
               {"grower", "name", "bundle", "label", "rejected_on", "where", "reason", "disposition", "next"}};
    for (auto& [grower, letter] : letters)
        made.pages.push_back(std::move(letter));
    if (made.pages.empty())
        throw records::input_error(
            fmt::format("no bundle of a known grower was rejected from {} to {}; --since DATE looks further back",
                        quantity::text_of(since), quantity::text_of(wanted.on)));
    return made;
}

} // namespace tarewell::desk
