#include "desk/remains.hpp"

#include "desk/echo.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/flags.hpp"
#include "reconcile/reckoning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::desk {
namespace {

std::vector<reconcile::flag> flags_at(const ledger::ledger_file& file, records::entry_no as_of) {
    const auto season = ledger::load_season(file, as_of);
    return reconcile::flags_of_paper(season, reconcile::reckon(season));
}

std::set<std::string> sentences_of(const std::vector<reconcile::flag>& flags) {
    std::set<std::string> sentences;
    for (const auto& each : flags)
        sentences.insert(each.sentence);
    return sentences;
}

} // namespace

std::vector<std::string> what_remains(const ledger::ledger_file& file, records::entry_no before) {
    if (file.head().seq > most_entries_told_at_once) return {};
    const auto earlier = flags_at(file, before);
    const auto now = flags_at(file, file.head().seq);
    std::vector<std::string> told;
    const auto known = sentences_of(earlier);
    for (const auto& each : now)
        if (!known.contains(each.sentence))
            told.push_back(fmt::format("{}: {}", name_of(reconcile::level_of(each.code)), each.sentence));
    const auto left = sentences_of(now);
    for (const auto& each : earlier)
        if (!left.contains(each.sentence)) told.push_back("no longer raised: " + each.sentence);
    return told;
}

} // namespace tarewell::desk
