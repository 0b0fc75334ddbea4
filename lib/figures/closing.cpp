#include "figures/closing.hpp"

#include "figures/filed_closing.hpp"
#include "figures/flags.hpp"
#include "figures/quarters_across.hpp"
#include "figures/quick_view.hpp"
#include "ledger/load_season.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <optional>
#include <set>

namespace tarewell::figures {
namespace {

using namespace records; // NOLINT

[[noreturn]] void refuse(const std::string& what, const std::string& right) {
    throw refused(std::vector<std::string>{fmt::format("{}; {}", what, right)});
}

using evidence = std::vector<reconcile::evidence_row>;
using evidence_by_figure = std::map<std::string, evidence>;

evidence_by_figure all_evidence(const report& of, const season& season, const reconcile::reckoning& reckoned) {
    evidence_by_figure all;
    for (const auto& each : of.figures)
        all[each.name] = evidence_of(each.name, of.basis, season, reckoned);
    return all;
}

/// Entries after `as_of` that brought a row into a figure's evidence, took one out of it, or changed what one adds.
std::set<entry_no> movers(const ledger::ledger_file& file, const evidence& filed, const evidence& now, entry_no as_of,
                          entry_no upto) {
    std::map<entry_no, std::optional<std::int64_t>> adds_now;
    for (const auto& row : now)
        adds_now[row.entry] = row.adds;
    // The replacements of each filed row, in order of entry: corrected, then voided.
    std::map<entry_no, entry_no> filed_row_of;
    for (const auto& row : filed)
        filed_row_of[row.entry] = row.entry;
    std::map<entry_no, std::vector<entry_no>> replaced_by;
    for (const auto& [replaced, by] : file.replacements(upto)) {
        const auto row = filed_row_of.find(replaced);
        if (by <= as_of || row == filed_row_of.end()) continue;
        replaced_by[row->second].push_back(by);
        filed_row_of[by] = row->second;
    }
    std::set<entry_no> found;
    for (const auto& row : now)
        if (row.entry > as_of && !filed_row_of.contains(row.entry)) found.insert(row.entry);
    for (const auto& row : filed) {
        const auto& by = replaced_by[row.entry];
        if (by.empty()) continue;
        const auto last = adds_now.find(by.back());
        const bool adds_the_same = last != adds_now.end() && row.adds && last->second == row.adds;
        if (!adds_the_same) found.insert(by.begin(), by.end());
    }
    return found;
}

/// Rows that stand as filed and add another amount to a figure now: what they stand on was changed. A ratio's rows add
/// nothing themselves; under the empty name are those of all figures.
std::map<std::string, std::set<entry_no>> shifted_rows(const evidence_by_figure& filed, const evidence_by_figure& now) {
    std::map<std::string, std::set<entry_no>> shifted;
    for (const auto& [figure, rows] : now) {
        std::map<entry_no, std::int64_t> before;
        for (const auto& row : filed.at(figure))
            if (row.adds) before[row.entry] = *row.adds;
        for (const auto& row : rows) {
            const auto known = before.find(row.entry);
            if (!row.adds || known == before.end() || known->second == *row.adds) continue;
            shifted[figure].insert(row.entry);
            shifted[{}].insert(row.entry);
        }
    }
    return shifted;
}

bool stands_on_shifted(const std::string& figure, const evidence& now,
                       const std::map<std::string, std::set<entry_no>>& shifted) {
    const bool adds = std::any_of(now.begin(), now.end(), [](const auto& row) { return row.adds.has_value(); });
    const auto rows = shifted.find(adds ? figure : std::string{});
    return rows != shifted.end() &&
           std::any_of(now.begin(), now.end(), [&](const auto& row) { return rows->second.contains(row.entry); });
}

std::vector<ledger::journal_entry> entries_of(const ledger::ledger_file& file, const std::set<entry_no>& which) {
    std::vector<ledger::journal_entry> entries;
    for (const auto seq : which)
        file.for_each_journal_entry(seq, seq, [&](const ledger::journal_entry& entry) { entries.push_back(entry); });
    return entries;
}

std::set<entry_no> all_since(const ledger::ledger_file& file, entry_no as_of, entry_no upto) {
    std::set<entry_no> found;
    file.for_each_journal_entry(as_of + 1, upto, [&](const ledger::journal_entry& entry) {
        const auto* kind = find_kind(entry.kind);
        if (kind != nullptr && !kind->internal) found.insert(entry.seq);
    });
    return found;
}

} // namespace

namespace {

period_view view_in(season season, const ledger::ledger_file& file, const quantity::period& period, entry_no as_of) {
    auto reckoned = reconcile::reckon(season);
    // The closing itself comes after the sequence that it closes at; one withdrawn since was filed all the same.
    const bool closed = filed_at(file, period, as_of).has_value();
    auto report = figures_of(season, reckoned, period, as_of, closed);
    return {std::move(season), std::move(reckoned), std::move(report)};
}

} // namespace

period_view view_period(const ledger::ledger_file& file, const quantity::period& period, entry_no as_of) {
    return view_in(ledger::load_season(file, as_of), file, period, as_of);
}

period_view quick_view(const ledger::ledger_file& file, const quantity::period& period, entry_no as_of,
                       ledger::people whose) {
    return view_in(ledger::quick_season(file, as_of, whose), file, period, as_of);
}

entry_no as_of_period(const ledger::ledger_file& file, const quantity::period& period) {
    auto as_of = file.head().seq;
    file.for_each(kind::closing, as_of, [&](const ledger::stored_row& stored) {
        if (stored.values["quarter"] == quantity::text_of(period))
            as_of = std::stoll(std::string{stored.values["as_of"]});
    });
    return as_of;
}

std::vector<reconcile::flag> flags_that_stop(const period_view& view,
                                             const std::map<std::string, std::string>& accepted) {
    auto flags = reconcile::flags_in(flags_of(view.season, view.reckoning), view.report.basis.days);
    std::erase_if(flags, [&](const reconcile::flag& each) {
        return !reconcile::blocks_closing(each.code) || accepted.contains(std::string{each.code});
    });
    return flags;
}

std::string filed_text(const report& of) {
    std::string text;
    for (const auto& each : of.figures)
        text += fmt::format("{}={}\n", each.name, text_of(each.value));
    return text;
}

namespace {

/// A period whose last day is not over has not all its paper; the day is the clock's at the entry.
void refuse_early(const basis& on, const std::string& early, const ledger::surroundings& around) {
    const auto today = quantity::read_day(around.now().substr(0, 10));
    const bool over = !today || *today > on.days.to;
    const auto name = quantity::text_of(on.period);
    if (!over && early.empty())
        refuse(fmt::format("{} ends on {} and today is {}", name, quantity::text_of(on.days.to),
                           quantity::text_of(*today)),
               "close it when it is over, or now with --early 'why'");
    if (!over && !is_reason(early))
        refuse(fmt::format("--early '{}' is no reason that a reader can follow", early), "say in a sentence why");
    if (over && !early.empty()) refuse("--early is given and " + name + " is over", "leave it out");
}

/// The period's open quarters, as a closing keeps them with the reason; empty where none is open.
std::string open_quarters(const season& of, const basis& on, const std::string& reason) {
    if (on.period.is_quarter()) return {};
    std::string open;
    for (const auto quarter : quarters_of(of, on.days))
        if (of.closing_of(quarter) == nullptr) open += (open.empty() ? "" : ", ") + quantity::text_of(quarter);
    const auto name = quantity::text_of(on.period);
    if (open.empty() && !reason.empty())
        refuse("--over-open is given and no quarter of " + name + " is open", "leave it out");
    if (open.empty()) return {};
    if (!is_reason(reason))
        refuse(fmt::format("{} {} open", open, open.find(',') == std::string::npos ? "is" : "are"),
               fmt::format("close them first, or close {} over them with --over-open 'why'", name));
    return open + ": " + reason;
}

void refuse_unsigned(const closing_signatures& signatures) {
    for (const auto& [flag, who] :
         {std::pair{"--prepared-by", signatures.prepared_by}, std::pair{"--reviewed-by", signatures.reviewed_by},
          std::pair{"--certified-by", signatures.certified_by}})
        if (who.empty()) refuse(std::string{flag} + " is empty", "name who did it");
}

void refuse_flagged(const period_view& view, const std::map<std::string, std::string>& accepted) {
    std::vector<std::string> stopping;
    for (const auto& each : flags_that_stop(view, accepted)) {
        const auto sentence = each.sentence.substr(0, each.sentence.find_last_not_of('.') + 1);
        stopping.push_back(
            fmt::format("{}: {}; mend it, or accept it with --accept {}='why'", each.code, sentence, each.code));
    }
    if (!stopping.empty()) throw refused(std::move(stopping));
}

} // namespace

std::vector<quantity::quarter> quarters_of(const season& of, quantity::span_of_days days) {
    const auto& award = of.the_award.value();
    const auto calendar = award.calendar();
    const auto first = std::max(days.from, award.begins), last = std::min(days.to, of.terms_on(day::max()).ends);
    std::vector<quantity::quarter> found;
    for (auto quarter = calendar.holding(first); calendar.days_of(quarter).from <= last; quarter = next(quarter))
        found.push_back(quarter);
    return found;
}

entry_no close_period(ledger::ledger_file& file, const quantity::period& period, const closing_signatures& signatures,
                      const closing_reasons& over, const ledger::surroundings& around) {
    refuse_unsigned(signatures);
    const auto name = quantity::text_of(period);
    if (period.is_span()) refuse(name + " is a span, which is looked at", "close a quarter, a year or final");
    ledger::writer writing{file, around};
    const auto head = file.head();
    const auto view = view_period(file, period, head.seq);
    if (view.season.closing_of(period) != nullptr)
        refuse(name + " is closed already", "what changed since shows up in: tarewell quarter restate " + name);
    const auto over_open = open_quarters(view.season, view.report.basis, over.over_open);
    refuse_early(view.report.basis, over.early, around);
    refuse_flagged(view, over.accepted);
    std::string reasons;
    for (const auto& [code, reason] : over.accepted) {
        if (!is_reason(reason))
            refuse(fmt::format("--accept {}='{}' gives no reason that a reader can follow", code, reason),
                   fmt::format("write --accept {}='why'", code));
        reasons += fmt::format("{}={}\n", code, reason);
    }
    const auto seq = std::to_string(head.seq);
    const auto hash = ledger::hex(head.hash);
    const auto filed = filed_text(view.report);
    const auto withdrawn = last_withdrawn(file, period, head.seq);
    row values;
    values.which = kind::closing;
    const std::string_view cells[] = {name,
                                      seq,
                                      hash,
                                      signatures.prepared_by,
                                      signatures.reviewed_by,
                                      signatures.certified_by,
                                      reasons,
                                      filed,
                                      over.early,
                                      withdrawn,
                                      over_open};
    std::copy(std::begin(cells), std::end(cells), values.cells.begin());
    writing.begin({period.is_quarter() ? "close quarter" : "close period"});
    const auto entry = writing.append(values);
    writing.commit();
    return entry;
}

value restatement::difference() const { return difference_of(now, filed); }

namespace {

std::vector<restatement> restate(const ledger::ledger_file& file, const closing& closing, const season& season,
                                 const reconcile::reckoning& reckoned, entry_no as_of) {
    const auto now = figures_of(season, reckoned, closing.period, as_of, false);
    if (filed_text(now) == closing.figures) return {};
    const auto filed = quick_view(file, closing.period, closing.as_of, ledger::people::unnamed);
    const auto rows_now = all_evidence(now, season, reckoned);
    const auto rows_filed = all_evidence(filed.report, filed.season, filed.reckoning);
    const auto shifted = shifted_rows(rows_filed, rows_now);
    std::vector<restatement> moved;
    for (const auto& before : filed.report.figures) {
        const auto* after = now.find(before.name);
        if (text_of(before.value) == text_of(after->value)) continue;
        restatement each{closing.period, before.name,  before.unit, before.meaning,
                         before.value,   after->value, {},          true};
        const auto& own = rows_now.at(before.name);
        auto entries = movers(file, rows_filed.at(before.name), own, closing.as_of, as_of);
        if (entries.empty() || stands_on_shifted(before.name, own, shifted)) {
            each.exactly = false;
            entries = all_since(file, closing.as_of, as_of);
        }
        each.moved_by = entries_of(file, entries);
        moved.push_back(std::move(each));
    }
    return moved;
}

} // namespace

std::vector<restatement> restate(const ledger::ledger_file& file, const quantity::period& period, entry_no as_of) {
    const auto season = ledger::quick_season(file, as_of, ledger::people::unnamed);
    const auto* closing = season.closing_of(period);
    if (closing == nullptr)
        throw input_error(fmt::format("{} is not closed{}; close it with: tarewell quarter close {}",
                                      quantity::text_of(period), as_of == file.head().seq ? "" : " as of that entry",
                                      quantity::text_of(period)));
    return restate(file, *closing, season, reconcile::reckon(season), as_of);
}

namespace {

bool is_carried(const quantity::period& closed, const basis& on, const season& of) {
    if (closed == on.period || closed.is == quantity::period::kind::whole_award) return false;
    const auto last = of.days_of(closed).to;
    if (!closed.is_quarter()) return !on.period.is_quarter() && last < on.days.to;
    return on.period.is_quarter() ? closed.first < on.period.first : last <= on.days.to;
}

} // namespace

std::vector<restatement> adjustments(const ledger::ledger_file& file, const season& season,
                                     const reconcile::reckoning& reckoned, const basis& on) {
    std::vector<const closing*> closed;
    for (const auto& each : season.closings)
        if (is_carried(each.period, on, season)) closed.push_back(&each);
    const auto last = [&](const closing* of) { return season.days_of(of->period).to; };
    std::stable_sort(closed.begin(), closed.end(), [&](const auto* a, const auto* b) { return last(a) < last(b); });
    std::vector<restatement> all;
    for (const auto* each : closed)
        for (auto& moved : restate(file, *each, season, reckoned, on.as_of))
            all.push_back(std::move(moved));
    return all;
}

} // namespace tarewell::figures
