#include "ledger/ledger.hpp"

#include "ledger/inside.hpp"
#include "ledger/kind_sql.hpp"
#include "ledger/read_row.hpp"

#include <fmt/format.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* head_sql = R"sql(
SELECT seq, hash, at FROM journal JOIN act USING (act) ORDER BY seq DESC LIMIT 1
)sql";
constexpr const char* head_at_sql = R"sql(
SELECT seq, hash, at FROM journal JOIN act USING (act) WHERE seq = ?1
)sql";
constexpr const char* replacements_sql = R"sql(
SELECT replaces, seq FROM journal WHERE replaces IS NOT NULL AND +seq <= ?1 ORDER BY +seq
)sql";
constexpr const char* replaced_by_sql = "SELECT seq, deed FROM journal WHERE replaces = ?1";
constexpr const char* replaces_sql = "SELECT replaces FROM journal WHERE seq = ?1";
constexpr const char* voids_sql = R"sql(
SELECT seq, kind, replaces FROM journal
    WHERE replaces IS NOT NULL AND deed = 'void' AND +seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND +journal.seq <= ?1)
    ORDER BY +seq
)sql";
constexpr const char* journal_sql = R"sql(
SELECT seq, act, at, who, command, reason, source, kind, deed, replaces, effective, line, hash
    FROM journal JOIN act USING (act) WHERE seq BETWEEN ?1 AND ?2 ORDER BY seq
)sql";
constexpr const char* act_days_sql = "SELECT act, substr(at, 1, 10) FROM act ORDER BY act";
constexpr const char* act_of_sql = "SELECT act FROM journal WHERE seq = ?1";
constexpr const char* done_before_sql = R"sql(
SELECT min(seq), max(seq) FROM journal JOIN act USING (act) WHERE once = ?1
)sql";

journal_head head_in(query& from) { return {from.whole(0), from.hash(1), std::string{from.text(2)}}; }

journal_entry journal_entry_in(query& from) {
    journal_entry entry;
    entry.seq = from.whole(0);
    entry.act = from.whole(1);
    std::string* const texts[] = {&entry.at,     &entry.who,  &entry.command, &entry.reason,
                                  &entry.source, &entry.kind, &entry.deed};
    int index = 2;
    for (auto* text : texts)
        *text = from.text(index++);
    entry.replaces = from.number(9);
    entry.effective = from.text(10);
    entry.line = from.number(11);
    entry.hash = hex(from.hash(12));
    return entry;
}

template <class Body> auto reading(ledger_file::implementation& inside, Body&& body) {
    return guarded(inside, [&] {
        inside.settle_writes();
        return body();
    });
}

} // namespace

void read_row(query& from, stored_row& into) {
    const auto& kind = info(into.values.which);
    into.entry = from.whole(0);
    int index = 1;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        into.values.cells[i] = from.text(index++);
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        into.values.worked_out[i] = from.number(index++);
}

std::string_view name_of(deed what) {
    switch (what) {
    case deed::record:
        return "record";
    case deed::correct:
        return "correct";
    case deed::void_:
        return "void";
    case deed::erase:
        return "erase";
    }
    return "";
}

ledger_file::ledger_file(std::unique_ptr<implementation> inside) : inside_{std::move(inside)} {}
ledger_file::~ledger_file() = default;
ledger_file::ledger_file(ledger_file&&) noexcept = default;
ledger_file& ledger_file::operator=(ledger_file&&) noexcept = default;

const std::string& ledger_file::path() const { return inside_->path; }

journal_head ledger_file::head() const {
    return reading(*inside_, [&] {
        const auto asked = inside_->store->prepare(head_sql);
        return asked->step() ? head_in(*asked) : journal_head{};
    });
}

journal_head ledger_file::head_at(entry_no seq) const {
    if (seq == 0) return {};
    return reading(*inside_, [&] {
        const auto asked = inside_->store->prepare(head_at_sql);
        asked->bind(1, seq);
        if (!asked->step())
            throw input_error(fmt::format("the journal has no entry {}; its last is {}", seq, head().seq));
        return head_in(*asked);
    });
}

void ledger_file::for_each(kind which, entry_no seq, const std::function<void(const stored_row&)>& each) const {
    reading(*inside_, [&] {
        const auto asked = inside_->store->stream(sql_of(which).in_force);
        asked->bind(1, seq);
        stored_row row;
        row.values.which = which;
        while (asked->step()) {
            read_row(*asked, row);
            each(row);
        }
    });
}

bool ledger_file::with_entry(kind which, entry_no entry, const std::function<void(const stored_row&)>& each) const {
    return reading(*inside_, [&] {
        kept_query asked{*inside_, sql_of(which).entry};
        asked->bind(1, entry);
        if (!asked->step()) return false;
        stored_row row;
        row.values.which = which;
        read_row(*asked, row);
        each(row);
        return true;
    });
}

void ledger_file::for_each_with(kind which, std::string_view column, std::string_view text, entry_no seq,
                                const std::function<void(const stored_row&)>& each, which_rows rows) const {
    reading(*inside_, [&] {
        const auto& sql = sql_of(which);
        kept_query asked{*inside_, rows == which_rows::ever ? sql.ever_with(column) : sql.in_force_with(column)};
        asked->bind(1, seq);
        asked->bind(2, text);
        stored_row row;
        row.values.which = which;
        while (asked->step()) {
            read_row(*asked, row);
            each(row);
        }
    });
}

std::optional<ledger_file::replacement> ledger_file::replaced_by(entry_no entry) const {
    return reading(*inside_, [&]() -> std::optional<replacement> {
        kept_query asked{*inside_, replaced_by_sql};
        asked->bind(1, entry);
        if (!asked->step()) return std::nullopt;
        return replacement{asked->whole(0), asked->text(1) == name_of(deed::void_)};
    });
}

entry_no ledger_file::first_of(entry_no entry) const {
    return reading(*inside_, [&] {
        kept_query asked{*inside_, replaces_sql};
        for (;;) {
            asked->reset();
            asked->bind(1, entry);
            if (!asked->step() || !asked->number(0)) return entry;
            entry = asked->whole(0);
        }
    });
}

std::vector<std::pair<entry_no, entry_no>> ledger_file::replacements(entry_no seq) const {
    return reading(*inside_, [&] {
        const auto asked = inside_->store->stream(replacements_sql);
        asked->bind(1, seq);
        std::vector<std::pair<entry_no, entry_no>> pairs;
        while (asked->step())
            pairs.emplace_back(asked->whole(0), asked->whole(1));
        return pairs;
    });
}

std::vector<std::pair<entry_no, std::string>> ledger_file::days_of_entry(entry_no seq) const {
    return reading(*inside_, [&] {
        // Acts are numbered in the order of their entries, so an act's first one is found without reading the journal.
        kept_query act_of{*inside_, act_of_sql};
        const auto first_of_act = [&](std::int64_t act, entry_no from) {
            for (entry_no to = seq + 1; from < to;) {
                const auto middle = from + (to - from) / 2;
                act_of->reset();
                act_of->bind(1, middle);
                if (act_of->step() && act_of->whole(0) < act)
                    from = middle + 1;
                else
                    to = middle;
            }
            return from;
        };
        std::vector<std::pair<entry_no, std::string>> days;
        const auto acts = inside_->store->stream(act_days_sql);
        while (acts->step()) {
            const auto on = acts->text(1);
            if (!days.empty() && days.back().second == on) continue;
            const auto first = first_of_act(acts->whole(0), days.empty() ? 1 : days.back().first);
            if (first > seq) break;
            days.emplace_back(first, on);
        }
        return days;
    });
}

std::vector<ledger_file::voided> ledger_file::voids(entry_no seq) const {
    return reading(*inside_, [&] {
        const auto asked = inside_->store->stream(voids_sql);
        asked->bind(1, seq);
        std::vector<voided> found;
        while (asked->step())
            found.push_back({asked->whole(0), std::string{asked->text(1)}, asked->whole(2)});
        return found;
    });
}

void ledger_file::for_each_journal_entry(entry_no from, entry_no to,
                                         const std::function<void(const journal_entry&)>& each) const {
    reading(*inside_, [&] {
        const auto asked = inside_->store->stream(journal_sql);
        asked->bind(1, from);
        asked->bind(2, to);
        while (asked->step())
            each(journal_entry_in(*asked));
    });
}

std::optional<std::pair<entry_no, entry_no>> ledger_file::done_before(const std::string& once) const {
    return reading(*inside_, [&]() -> std::optional<std::pair<entry_no, entry_no>> {
        const auto asked = inside_->store->prepare(done_before_sql);
        asked->bind(1, once);
        if (!asked->step() || !asked->number(0)) return std::nullopt;
        return std::pair{asked->whole(0), asked->whole(1)};
    });
}

ledger_file::snapshot::snapshot(const ledger_file& of) : of_{of.inside()} {
    guarded(of_, [&] { of_.store->begin_read(); });
}

ledger_file::snapshot::~snapshot() { of_.store->end_read(); }

} // namespace tarewell::ledger
