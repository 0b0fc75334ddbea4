#include "desk/rollup_notes.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::desk {
namespace {

using quantity::text_of;
using labels = std::vector<std::string>;

template <class Is> labels those(const rollup& of, Is is) {
    labels found;
    for (const auto& each : of.ledgers)
        if (is(each)) found.push_back(each.label);
    return found;
}

const char* is_or_are(const labels& of) { return of.size() == 1 ? "is" : "are"; }
const char* has_or_have(const labels& of) { return of.size() == 1 ? "has" : "have"; }

void say_states(const rollup& of, std::vector<std::string>& notes) {
    const auto filed = those(of, [](const auto& each) { return each.filed.has_value(); });
    const auto open = those(of, [](const auto& each) { return !each.filed; });
    const auto which = [&](const labels& some) {
        return some.size() == of.ledgers.size() && some.size() > 1 ? std::string{"All"} : labels_in_words(some);
    };
    std::string text;
    if (!filed.empty())
        text = fmt::format("{} {} shown as filed, as of the entry of the closing", which(filed), is_or_are(filed));
    if (!open.empty())
        text += fmt::format("{}{} {} open: {} figures may still change, and so may the sums", text.empty() ? "" : "; ",
                            which(open), is_or_are(open), open.size() == 1 ? "its" : "their");
    notes.push_back(text + ".");
    for (const auto& each : of.ledgers)
        if (each.filed && each.head.seq > each.filed->entry)
            notes.push_back(fmt::format(
                "{0} has {1} since its closing; what moved since: tarewell --ledger {2} quarter "
                "restate {3}",
                each.label, counted(static_cast<std::size_t>(each.head.seq - each.filed->entry), "entry", "entries"),
                each.path, text_of(of.period)));
}

void say_days(const rollup& of, std::vector<std::string>& notes) {
    if (of.same_days()) return;
    const auto& all = of.sums.back();
    notes.push_back(fmt::format(
        "{} is not the same days in every ledger. Ledgers of the same days stand together, and where there are several "
        "they have a sum of their own; the last sum is over different days, from {} to {}. For the same days "
        "everywhere "
        "name months, such as --quarter {}..{}.",
        quantity::title_of(of.period), text_of(all.days.from), text_of(all.days.to),
        text_of(of.ledgers.front().days().from).substr(0, 7), text_of(of.ledgers.front().days().to).substr(0, 7)));
}

void say_units(const rollup& of, std::vector<std::string>& notes) {
    const auto other = those(of, [&](const auto& each) { return each.terms.unit != of.unit; });
    if (other.empty()) return;
    const auto unit = quantity::name_of(of.unit);
    const auto own =
        quantity::name_of(of.unit == quantity::weight_unit::lb ? quantity::weight_unit::kg : quantity::weight_unit::lb);
    notes.push_back(fmt::format("{} {} kept in {} and shown so. In the sums, which are in {}, each of those weights is "
                                "converted (1 lb is exactly "
                                "0.45359237 kg) and rounded half up to a thousandth of a {} before it is added. Tons "
                                "are of 2,000 lb in every ledger "
                                "and come from its own weights.",
                                labels_in_words(other), is_or_are(other), own, unit, unit));
}

void say_same_award(const rollup& of, std::vector<std::string>& notes) {
    std::map<std::string, labels> by_award;
    for (const auto& each : of.ledgers)
        by_award[each.terms.id].push_back(each.label);
    for (const auto& [award, in] : by_award)
        if (in.size() > 1)
            notes.push_back(fmt::format("{} are ledgers of one award, {}: its goal and its budget count in each.",
                                        labels_in_words(in), award));
}

} // namespace

std::string labels_in_words(const labels& of) {
    std::string text;
    for (std::size_t i = 0; i < of.size(); ++i)
        text += (i == 0 ? "" : i + 1 == of.size() ? " and " : ", ") + of[i];
    return text;
}

std::vector<std::string> notes_of(const rollup& of) {
    std::vector<std::string> notes;
    say_states(of, notes);
    say_days(of, notes);
    say_units(of, notes);
    say_same_award(of, notes);
    if (const auto none = those(of, [](const auto& each) { return each.nothing_dated; }); !none.empty())
        notes.push_back(fmt::format("{} {} no weight, bundle or amount dated in these days and {} 0; what is to date "
                                    "counts.",
                                    labels_in_words(none), has_or_have(none), none.size() == 1 ? "counts" : "count"));
    notes.emplace_back(
        "Weights, counts, tons and money are summed. A ratio, a share or a cost per ton is worked out anew "
        "from what is summed, never averaged. What one ledger has no value for has no sum.");
    notes.emplace_back("Ids stay apart: an id of one ledger says nothing in another. A grower or site that is in two "
                       "ledgers counts in each.");
    notes.emplace_back("What the audit predicts of what is on hand is not summed.");
    return notes;
}

} // namespace tarewell::desk
