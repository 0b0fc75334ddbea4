#include "desk/growers.hpp"

#include "desk/echo.hpp"
#include "desk/look_up.hpp"
#include "intake/keeping.hpp"
#include "ledger/load_season.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

/// Recorded, or where it was voided before, brought back.
intake::change_summary keep_merge(ledger::ledger_file& file, const std::string& kept, const std::string& gone,
                                  const std::string& why, const ledger::surroundings& around) {
    bool ever = false, now = false;
    const auto look = [&](bool& there, ledger::ledger_file::which_rows rows) {
        file.for_each_with(
            kind::merge, "grower", gone, file.head().seq, [&](const auto&) { there = true; }, rows);
    };
    look(ever, ledger::ledger_file::which_rows::ever);
    look(now, ledger::ledger_file::which_rows::in_force);
    if (ever && !now) return intake::correct(file, kind::merge, {gone}, {{"into", kept}, {"reason", why}}, why, around);
    return intake::record(file, kind::merge, {{"grower", gone}, {"into", kept}, {"reason", why}}, around, {}, why);
}

} // namespace

answer merge_growers(ledger::ledger_file& file, const std::string& kept_said, const std::string& gone_said,
                     const std::string& why, const ledger::surroundings& around) {
    if (why.empty()) throw input_error("--why is empty; say in a sentence why, such as: married, told by telephone");
    look_up names{file};
    const auto kept = names.id_of(kind::grower, kept_said);
    auto gone = names.id_or_text(kind::grower, gone_said); // itself, not whom it counts as
    auto of = ledger::load_season(file, file.head().seq);
    const auto place = of.find_grower(gone);
    if (!place) throw input_error(none_found(kind::grower, gone_said, find(of, kind::grower, gone_said).near));
    for (const auto& each : {kept, gone})
        if (of.at(of.find_grower(each)).erased)
            throw input_error(fmt::format("the details of grower {} were erased on request: nobody can say any more "
                                          "that it is one person with another; nothing was changed",
                                          each));
    const auto change = keep_merge(file, kept, gone, why, around);
    answer made;
    made.data = {{"kept", kept}, {"merged", gone}, {"entry", value{}}};
    for (const auto& line : names.told)
        made.say("{}\n", line);
    if (change.entries.empty()) {
        made.say("{}\n", change.note);
        return made;
    }
    const auto bundles = [&] {
        std::size_t count = 0;
        for (const auto& each : of.registrations)
            if (each.written_for == place) count += each.bundles.size();
        return count;
    }();
    made.data["entry"] = change.entries.front();
    made.data["bundles"] = bundles;
    made.say("merged by entry {}: {} of {} count as {} ({}) from now on; what was filed stays\n",
             change.entries.front(), counted(bundles, "bundle", "bundles"), gone, kept,
             of.at(of.find_grower(kept)).name);
    made.say("to take it back: tarewell void merge {} --why TEXT\n", gone);
    for (const auto& line : filed_without(file, ledger::load_season(file, file.head().seq), change.entries))
        made.say("{}\n", line);
    return made;
}

std::vector<entry_no> erase_person(ledger::ledger_file& file, const std::string& grower, const std::string& why,
                                   const ledger::surroundings& around) {
    const auto of = ledger::load_season(file, file.head().seq);
    std::vector<std::string> ids{grower};
    if (const auto person = of.find_grower(grower))
        for (std::size_t i = 1; i < of.growers.size() && !of.merges.empty(); ++i) // none is merged with `unknown`
            if (grower_place{i} != person && of.counts_as(grower_place{i}) == of.counts_as(person))
                ids.push_back(of.growers[i].id.text());
    std::vector<entry_no> entries;
    for (const auto& id : ids)
        if (const auto entry = intake::erase_contact(file, id, why, around); entry != 0) entries.push_back(entry);
    return entries;
}

} // namespace tarewell::desk
