#include "ledger/load_season.hpp"

#include <unordered_map>

namespace tarewell::ledger {

using namespace records; // NOLINT

season load_season(const ledger_file& from, entry_no seq, const std::function<void(const stored_row&)>& see) {
    // A correction keeps the place in the order of entry of what it corrects.
    std::unordered_map<entry_no, entry_no> root;
    for (const auto& [replaced, by] : from.replacements(seq)) {
        const auto known = root.find(replaced);
        root[by] = known == root.end() ? replaced : known->second;
    }
    season loaded;
    for (const auto& [first, text] : from.days_of_entry(seq))
        if (const auto on = quantity::read_day(text)) loaded.learn_day(first, *on);
    for (const auto& kind : all_kinds())
        from.for_each(kind.which, seq, [&](const stored_row& stored) {
            if (see) see(stored);
            const auto found = root.find(stored.entry);
            loaded.add(stored.values, stored.entry, found == root.end() ? stored.entry : found->second);
        });
    return loaded;
}

bool follow(season& of, const ledger_file& file, entry_no from, entry_no to) {
    struct recorded_entry {
        entry_no seq;
        const kind_info* kind;
        std::string on;
    };
    std::vector<recorded_entry> found;
    bool only_recorded = true;
    file.for_each_journal_entry(from, to, [&](const journal_entry& each) {
        found.push_back({each.seq, find_kind(each.kind), each.at.substr(0, 10)});
        only_recorded = only_recorded && each.deed == name_of(deed::record) && found.back().kind != nullptr;
    });
    if (!only_recorded) return false;
    for (const auto& each : found) {
        if (const auto on = quantity::read_day(each.on)) of.learn_day(each.seq, *on);
        file.with_entry(each.kind->which, each.seq,
                        [&](const stored_row& stored) { of.add(stored.values, stored.entry, stored.entry); });
    }
    return true;
}

} // namespace tarewell::ledger
