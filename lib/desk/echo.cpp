#include "desk/echo.hpp"

#include "desk/answer.hpp"
#include "desk/near_paper.hpp"
#include "desk/ticket_ids.hpp"
#include "desk/understood.hpp"
#include "figures/expected_nets.hpp"
#include "ledger/load_season.hpp"

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT
using reconcile::flag_level;

/// What the next paper brings is no news while a record is entered: a bale's ticket, a registration's other bundles, to
/// which a part of the claim goes, what is still to be handed in.
void leave_out_what_is_to_come(std::vector<reconcile::flag>& flags) {
    const bool more_bundles =
        std::any_of(flags.begin(), flags.end(), [](const auto& each) { return each.code == "number-missing"; });
    std::erase_if(flags, [&](const auto& each) {
        return each.code == "not-weighed" || each.code == "number-missing" || each.code == "never-received" ||
               each.code == "check-weight" || // look_at_ticket tells which of the two decides
               (more_bundles && each.code.starts_with("claim-over"));
    });
}

bool is_about(const reconcile::flag& flag, const std::vector<entry_no>& entries) {
    return std::any_of(flag.rows.begin(), flag.rows.end(), [&](const reconcile::row_ref& row) {
        return std::find(entries.begin(), entries.end(), row.entry) != entries.end();
    });
}

/// What a ticket raises beside its flags: a number that may be a slip, another ticket on its bale, and a net that the
/// others do not let expect.
void look_at_ticket(const ledger::ledger_file& file, const season& of, const reconcile::reckoning& reckoned,
                    const ticket& made, echo& to) {
    if (auto doubt = doubt_of_number(file, file.head().seq, of, made); !doubt.empty())
        to.doubts.push_back({flag_level::question, std::move(doubt)});
    if (made.weighs != subject::bale) return;
    const auto& weighed = reckoned.at(made.bale).weighed;
    const auto& id = of.at(made.bale).id.text();
    for (const auto& other : of.tickets)
        if (other.weighs == subject::bale && other.bale == made.bale && other.entry != made.entry)
            to.doubts.push_back(
                {flag_level::question, fmt::format("Bale {} has ticket {} already; {} decides its weight, the other is "
                                                   "a check weight.",
                                                   id, other.id, weighed ? of.tickets[weighed->ticket].id : other.id)});
    if (!weighed || of.tickets[weighed->ticket].entry != made.entry) return;
    const auto judged = figures::judge_bale(of, reckoned, made.bale);
    const auto limits = figures::net_limits_on(of, made.date);
    if (judged.tickets == 0 || std::abs(judged.z) < limits.doubt_from || figures::is_far_from_claim(judged, limits))
        return;
    const auto unit = quantity::name_of(of.the_award->unit);
    to.doubts.push_back(
        {std::abs(judged.z) >= limits.block_from ? flag_level::blocks : flag_level::question,
         fmt::format("Bale {} weighs {} {}; from the other tickets {:.0f} {} is to be expected, {:.0f} to {:.0f} in 95 "
                     "of 100.",
                     id, quantity::shortest_text({weighed->net.count(), 3}), unit, judged.expected, unit,
                     std::max(judged.low, 0.0), judged.high)});
}

/// Row numbers as "3, 8-12, 40", the first dozen runs of them.
std::string runs_of(std::vector<std::uint32_t> lines) {
    std::sort(lines.begin(), lines.end());
    lines.erase(std::unique(lines.begin(), lines.end()), lines.end());
    constexpr std::size_t most_runs = 12;
    std::string text;
    std::size_t runs = 0, told = 0;
    for (std::size_t i = 0; i < lines.size() && runs < most_runs; ++runs) {
        std::size_t end = i + 1;
        while (end < lines.size() && lines[end] == lines[end - 1] + 1)
            ++end;
        text += fmt::format("{}{}", text.empty() ? "" : ", ", lines[i]);
        if (end > i + 1) text += fmt::format("-{}", lines[end - 1]);
        told += end - i;
        i = end;
    }
    if (told < lines.size()) text += fmt::format(" and {} more", lines.size() - told);
    return text;
}

struct place_in_file {
    const intake::file_summary* file = nullptr;
    std::uint32_t line = 0;
};

place_in_file place_of(entry_no entry, const std::vector<intake::file_summary>& files) {
    for (const auto& each : files)
        if (each.taken > 0 && entry >= each.first && entry <= each.last)
            return {&each, each.lines[static_cast<std::size_t>(entry - each.first)]};
    return {};
}

/// One kind of flag: a line each where they are few, else one line with the rows.
std::string told_of_code(const std::vector<const reconcile::flag*>& flags,
                         const std::vector<intake::file_summary>& files) {
    constexpr std::size_t few = 3;
    const auto code = flags.front()->code;
    const auto level = name_of(reconcile::level_of(code));
    std::string text;
    std::map<std::string_view, std::vector<std::uint32_t>> lines;
    for (const auto* each : flags) {
        place_in_file at;
        for (const auto& row : each->rows)
            if (at.file == nullptr) at = place_of(row.entry, files);
        if (at.file == nullptr) continue;
        lines[at.file->kind_file].push_back(at.line);
        if (flags.size() <= few)
            text += fmt::format("  {}:{}: {}: {}: {}\n", at.file->file, at.line, level, code, each->sentence);
    }
    if (flags.size() <= few) return text;
    for (const auto& [file, of_file] : lines)
        text += fmt::format("{}{}.csv {}", text.empty() ? "" : "; ", file, runs_of(of_file));
    const auto codes = reconcile::flag_codes();
    const auto meaning =
        std::find_if(codes.begin(), codes.end(), [&](const auto& each) { return each.code == code; })->meaning;
    return fmt::format("  {}: {}, {} times: {}; lines of {}\n", level, code, flags.size(), meaning, text);
}

/// Of each entry, and of what it replaces: a correction moves what stood there before.
void look_around(near_paper& near, const ledger::ledger_file& file, const std::vector<entry_no>& entries) {
    for (const auto entry : entries)
        for (std::optional<entry_no> at = entry; at;) {
            std::optional<entry_no> before;
            std::optional<owned_row> centre;
            file.for_each_journal_entry(*at, *at, [&](const ledger::journal_entry& told) {
                before = told.replaces;
                const auto* known = find_kind(told.kind);
                if (known == nullptr) return;
                file.with_entry(known->which, told.seq,
                                [&](const ledger::stored_row& stored) { centre.emplace(stored.values); });
            });
            if (centre) near.around(centre->values());
            at = before;
        }
}

} // namespace

bool echo::blocks() const {
    return std::any_of(doubts.begin(), doubts.end(),
                       [](const doubt& each) { return each.level == flag_level::blocks; });
}

std::string echo::text() const {
    std::string text;
    for (const auto& each : doubts)
        text += fmt::format("{}: {}\n", name_of(each.level), each.sentence);
    for (const auto& each : filed)
        text += each + "\n";
    return text;
}

std::vector<std::string> filed_without(const ledger::ledger_file& file, const season& of,
                                       const std::vector<entry_no>& entries) {
    if (of.closings.empty() || !of.the_award) return {};
    std::vector<day> days;
    std::vector<quantity::period> periods; // with a note written anew
    bool all = false;
    const auto look = [&](const ledger::journal_entry& entry) {
        const auto* known = find_kind(entry.kind);
        if (known == nullptr) return;
        all = all || known->moves_all;
        if (const auto on = quantity::read_day(entry.effective)) days.push_back(*on);
        file.with_entry(known->which, entry.seq, [&](const ledger::stored_row& stored) {
            if (known->which == kind::bundle)
                if (const auto from = of.find_registration(stored.values["registration"]))
                    days.push_back(of.at(from).date);
            if (known->which == kind::merge)
                for (const auto& each : of.registrations)
                    if (of.at(each.written_for).id.text() == stored.values["grower"]) days.push_back(each.date);
            if (known->which == kind::note)
                if (const auto period = quantity::read_period(stored.values["quarter"])) periods.push_back(*period);
        });
    };
    for (const auto entry : entries)
        for (std::optional<entry_no> at = entry; at;) { // what it replaces stood in some quarter too
            std::optional<entry_no> before;
            file.for_each_journal_entry(*at, *at, [&](const ledger::journal_entry& told) {
                look(told);
                before = told.replaces;
            });
            at = before;
        }
    std::vector<std::string> told;
    for (const auto& closing : of.closings) {
        const auto last = of.days_of(closing.period).to; // figures to date move too
        if (all || std::find(periods.begin(), periods.end(), closing.period) != periods.end() ||
            std::any_of(days.begin(), days.end(), [&](day each) { return each <= last; }))
            told.push_back(fmt::format("{0} was closed by entry {1}: the filed report doesn't have this; see: tarewell "
                                       "quarter restate {0}",
                                       quantity::text_of(closing.period), closing.entry));
    }
    return told;
}

std::vector<std::string> filed_without(const ledger::ledger_file& file, const std::vector<entry_no>& entries) {
    const auto head = file.head().seq;
    near_paper near{file, head};
    look_around(near, file, entries);
    return filed_without(file, near.season(entries), entries);
}

echo echo_of(const ledger::ledger_file& file, kind which, const std::vector<entry_no>& entries) {
    const auto head = file.head().seq;
    if (head > most_entries_read_for_one) return echo_of_near(file, which, entries);
    const auto of = ledger::load_season(file, head);
    return echo_of(file, of, reconcile::reckon(of), which, entries);
}

echo echo_of_near(const ledger::ledger_file& file, kind which, const std::vector<entry_no>& entries,
                  std::int64_t bales) {
    near_paper near{file, file.head().seq};
    look_around(near, file, entries);
    if (which == kind::ticket) near.latest_weighed_bales(bales);
    const auto of = near.season(entries);
    return echo_of(file, of, reconcile::reckon(of), which, entries);
}

echo echo_of(const ledger::ledger_file& file, const season& of, const reconcile::reckoning& reckoned, kind which,
             const std::vector<entry_no>& entries) {
    echo made;
    std::set<std::string> lines; // rows of one record may say the same
    for (const auto entry : entries)
        file.with_entry(which, entry, [&](const ledger::stored_row& stored) {
            auto line = understood(of, reckoned, stored);
            if (lines.insert(line).second) made.understood.push_back(std::move(line));
        });
    auto flags = reconcile::flags_of_paper(of, reckoned);
    std::erase_if(flags, [&](const auto& each) { return !is_about(each, entries); });
    leave_out_what_is_to_come(flags);
    for (const auto& each : flags)
        made.doubts.push_back({reconcile::level_of(each.code), each.sentence});
    if (which == kind::ticket)
        for (const auto& each : of.tickets)
            if (std::find(entries.begin(), entries.end(), each.entry) != entries.end())
                look_at_ticket(file, of, reckoned, each, made);
    std::stable_sort(made.doubts.begin(), made.doubts.end(),
                     [](const auto& a, const auto& b) { return a.level > b.level; });
    made.filed = filed_without(file, of, entries);
    return made;
}

std::string raised_by_intake(const std::vector<reconcile::flag>& flags, entry_no first_new,
                             const std::vector<intake::file_summary>& files) {
    std::map<std::pair<int, std::string_view>, std::vector<const reconcile::flag*>> by_code;
    std::map<flag_level, std::size_t> counts;
    for (const auto& each : flags) {
        const bool is_new = std::any_of(each.rows.begin(), each.rows.end(),
                                        [&](const reconcile::row_ref& row) { return row.entry >= first_new; });
        if (!is_new) continue;
        const auto level = reconcile::level_of(each.code);
        ++counts[level];
        if (level != flag_level::note) by_code[{-static_cast<int>(level), each.code}].push_back(&each);
    }
    if (counts.empty()) return {};
    auto text = fmt::format("raised: {} block closing, {}, {}; all: tarewell flags\n", counts[flag_level::blocks],
                            counted(counts[flag_level::question], "question", "questions"),
                            counted(counts[flag_level::note], "note", "notes"));
    for (const auto& [key, of_code] : by_code)
        text += told_of_code(of_code, files);
    return text;
}

} // namespace tarewell::desk
