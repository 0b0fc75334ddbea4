#include "desk/remains.hpp"

#include "desk/echo.hpp"
#include "desk/near_paper.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/flags.hpp"
#include "reconcile/reckoning.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

/// What is still to be handed in is no news.
std::vector<reconcile::flag> flags_of(const season& of) {
    auto flags = reconcile::flags_of_paper(of, reconcile::reckon(of));
    std::erase_if(flags, [](const auto& each) { return each.code == "never-received"; });
    return flags;
}

std::vector<reconcile::flag> flags_at(const ledger::ledger_file& file, entry_no as_of) {
    return flags_of(ledger::load_season(file, as_of));
}

std::set<std::string> sentences_of(const std::vector<reconcile::flag>& flags) {
    std::set<std::string> sentences;
    for (const auto& each : flags)
        sentences.insert(each.sentence);
    return sentences;
}

std::vector<std::string> told_of(const std::vector<reconcile::flag>& earlier, const std::vector<reconcile::flag>& now) {
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

} // namespace

std::vector<std::string> what_remains(const ledger::ledger_file& file, entry_no before) {
    const auto head = file.head().seq;
    if (head <= most_entries_read_for_one) return told_of(flags_at(file, before), flags_at(file, head));
    return what_remains_near(file, before);
}

std::vector<std::string> what_remains_near(const ledger::ledger_file& file, entry_no before) {
    constexpr std::size_t most_voided = 100; // an act's undoing may take back thousands
    std::vector<std::pair<kind, entry_no>> voided;
    file.for_each_journal_entry(before + 1, file.head().seq, [&](const ledger::journal_entry& each) {
        const auto* known = find_kind(each.kind);
        if (each.replaces && known != nullptr) voided.emplace_back(known->which, *each.replaces);
    });
    if (voided.empty() || voided.size() > most_voided) return {};
    near_paper near{file, before};
    std::vector<entry_no> entries;
    for (const auto& [which, entry] : voided) {
        entries.push_back(entry);
        std::optional<owned_row> centre;
        file.with_entry(which, entry, [&](const ledger::stored_row& stored) { centre.emplace(stored.values); });
        if (centre) near.around_all_it_moves(centre->values());
    }
    std::sort(entries.begin(), entries.end());
    return told_of(flags_of(near.season(entries)), flags_of(near.season(entries, {entries.begin(), entries.end()})));
}

} // namespace tarewell::desk
