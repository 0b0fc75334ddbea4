#include "desk/acts.hpp"

#include "desk/maps.hpp"

#include <algorithm>
#include <limits>
#include <map>
#include <set>

namespace tarewell::desk {
namespace {

/// "12 tickets, 1 site"
std::string counts_told(const std::map<records::kind, std::size_t>& counts) {
    std::string text;
    for (const auto& [which, count] : counts) {
        const auto& kind = records::info(which);
        text += (text.empty() ? "" : ", ") + fmt::format("{} {}", count, count == 1 ? kind.name : kind.file);
    }
    return text;
}

struct act_seen {
    std::string at, who, command, source, reason;
    entry_no first = 0, last = 0;
    std::map<records::kind, std::size_t> counts;
    std::size_t undone = 0;
    [[nodiscard]] std::size_t entries() const { return static_cast<std::size_t>(last - first + 1); }
};

std::map<std::int64_t, act_seen> acts_in(const looked_at& at) {
    std::map<std::int64_t, act_seen> acts;
    std::map<entry_no, std::int64_t> act_of; // first entry of each act
    at.file.for_each_journal_entry(1, at.head.seq, [&](const ledger::journal_entry& entry) {
        auto& act = acts[entry.act];
        if (act.first == 0) {
            act = {entry.at, entry.who, entry.command, entry.source, entry.reason, entry.seq, entry.seq, {}, 0};
            act_of.emplace(entry.seq, entry.act);
        }
        act.last = entry.seq;
        if (const auto* kind = records::find_kind(entry.kind)) ++act.counts[kind->which];
        if (entry.replaces && intake::is_undo(entry.command)) {
            const auto voided = std::prev(act_of.upper_bound(*entry.replaces));
            ++acts[voided->second].undone;
        }
    });
    return acts;
}

} // namespace

std::vector<act_told> last_acts(const looked_at& at, std::size_t most) {
    std::vector<act_told> told;
    const auto acts = acts_in(at);
    for (auto each = acts.rbegin(); each != acts.rend() && told.size() < most; ++each) {
        const auto& act = each->second;
        told.push_back({each->first, act.at, act.who, act.command, act.source, act.first, act.last,
                        counts_told(act.counts),
                        act.undone == 0               ? ""
                        : act.undone == act.entries() ? "all"
                                                      : "in part"});
    }
    return told;
}

answer acts_of(const looked_at& at) {
    table listed{{"act", "at", "who", "command", "source", "entries", "records", "undone"}};
    const auto acts = last_acts(at, std::numeric_limits<std::size_t>::max());
    for (auto each = acts.rbegin(); each != acts.rend(); ++each)
        listed.add({each->number, each->at, each->who, each->command, each->source,
                    each->first == each->last ? fmt::format("{}", each->first)
                                              : fmt::format("{} to {}", each->first, each->last),
                    each->records, each->undone});
    answer made;
    made.tell(listed);
    return made;
}

answer undo_preview(const ledger::ledger_file& of, const std::vector<std::int64_t>& acts) {
    const auto plan = intake::plan_undo(of, acts);
    std::map<records::kind, std::size_t> counts;
    value records = value::array(), standing = value::array();
    answer made;
    made.found = !plan.standing.empty();
    for (const auto& each : plan.records) {
        ++counts[each.which];
        records.push_back({{"entry", each.entry}, {"kind", records::info(each.which).name}, {"key", each.key}});
    }
    for (const auto& each : plan.standing)
        standing.push_back(each);
    made.data = {{"records", records}, {"standing", standing}};
    made.say("would be voided: {}\n", counts.empty() ? "nothing" : counts_told(counts));
    constexpr std::size_t enough = 20;
    for (std::size_t i = 0; i < plan.records.size() && i < enough; ++i)
        made.say("  {} {} (entry {})\n", records::info(plan.records[i].which).name, plan.records[i].key,
                 plan.records[i].entry);
    if (plan.records.size() > enough) made.say("  and {} more\n", plan.records.size() - enough);
    for (const auto& each : plan.standing)
        made.say("in the way: {}\n", each);
    made.say("nothing was changed\n");
    return made;
}

} // namespace tarewell::desk
