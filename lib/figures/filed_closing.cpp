#include "figures/filed_closing.hpp"

#include "records/letters.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

using namespace records; // NOLINT

std::vector<std::pair<std::string, std::string>> accepted_in(std::string_view lines) {
    std::vector<std::pair<std::string, std::string>> found;
    while (!lines.empty()) {
        const auto end = std::min(lines.find('\n'), lines.size());
        const auto line = lines.substr(0, end);
        if (const auto equals = line.find('='); equals != std::string_view::npos)
            found.emplace_back(line.substr(0, equals), line.substr(equals + 1));
        lines.remove_prefix(std::min(end + 1, lines.size()));
    }
    return found;
}

filed_closing read_closing(const ledger::stored_row& stored) {
    const auto text = [&](const char* column) { return std::string{stored.values[column]}; };
    return {stored.entry,
            {text("prepared_by"), text("reviewed_by"), text("certified_by")},
            accepted_in(stored.values["accepted"]),
            text("early"),
            text("withdrawn"),
            text("over_open"),
            text("figures")};
}

void for_each_closing(const ledger::ledger_file& file, const quantity::period& period,
                      ledger::ledger_file::which_rows which,
                      const std::function<void(const ledger::stored_row&)>& each) {
    file.for_each_with(kind::closing, "quarter", quantity::text_of(period), file.head().seq, each, which);
}

} // namespace

std::optional<filed_closing> filed_at(const ledger::ledger_file& file, const quantity::period& period, entry_no as_of) {
    std::optional<filed_closing> found;
    for_each_closing(file, period, ledger::ledger_file::which_rows::ever, [&](const ledger::stored_row& stored) {
        if (stored.values["as_of"] == std::to_string(as_of)) found = read_closing(stored);
    });
    return found;
}

bool is_reason(const std::string& text) {
    constexpr std::size_t shortest = 3; // letters: "why" says little, and 'x' nothing
    return letters_of(text).size() >= shortest;
}

std::string doubt_of_signers(const closing_signatures& signers) {
    const std::string* const names[] = {&signers.prepared_by, &signers.reviewed_by, &signers.certified_by};
    if (letters_of(*names[0]) == letters_of(*names[1]) && letters_of(*names[1]) == letters_of(*names[2]))
        return fmt::format("{} prepared, reviewed and certified the report alone; has another person looked at it?",
                           *names[0]);
    for (const auto* name : names)
        if (letters_of(*name).size() < 2 || name->find(' ') == std::string::npos)
            return fmt::format("'{}' may not be a person's full name; who is it?", *name);
    return {};
}

std::vector<closing_remark> remarks_of(const filed_closing& closing) {
    std::vector<closing_remark> remarks;
    for (const auto& [code, reason] : closing.accepted)
        remarks.push_back({"Accepted: " + code, reason});
    if (!closing.early.empty()) remarks.push_back({"Closed before its last day was over", closing.early});
    if (!closing.over_open.empty()) remarks.push_back({"Closed while quarters were open", closing.over_open});
    if (!closing.withdrawn_before.empty())
        remarks.push_back({"Takes the place of a closing withdrawn", closing.withdrawn_before});
    if (auto doubt = doubt_of_signers(closing.signatures); !doubt.empty())
        remarks.push_back({"Question about the signers", std::move(doubt)});
    return remarks;
}

entry_no withdraw_period(ledger::ledger_file& file, const quantity::period& period, const std::string& reason,
                         const ledger::surroundings& around) {
    const auto name = quantity::text_of(period);
    if (!is_reason(reason))
        throw refused(std::vector<std::string>{
            reason.empty()
                ? "--why is empty; say in a sentence why"
                : fmt::format("--why '{}' is no reason that a reader can follow; say in a sentence why", reason)});
    ledger::writer writing{file, around};
    entry_no closing = 0;
    for_each_closing(file, period, ledger::ledger_file::which_rows::in_force,
                     [&](const ledger::stored_row& stored) { closing = stored.entry; });
    if (closing == 0) throw refused(std::vector<std::string>{name + " is not closed; there is nothing to withdraw"});
    writing.begin({period.is_quarter() ? "withdraw quarter" : "withdraw period", reason});
    const auto entry = writing.append_void(kind::closing, closing);
    writing.commit();
    return entry;
}

std::string last_withdrawn(const ledger::ledger_file& file, const quantity::period& period, entry_no seq) {
    std::string told;
    for (const auto& each : file.voids(seq)) {
        if (each.kind != info(kind::closing).name) continue;
        bool is_of_it = false;
        file.with_entry(kind::closing, each.replaces, [&](const ledger::stored_row& stored) {
            is_of_it = stored.values["quarter"] == quantity::text_of(period);
        });
        if (!is_of_it) continue;
        file.for_each_journal_entry(each.entry, each.entry, [&](const ledger::journal_entry& entry) {
            told = fmt::format("entry {}, withdrawn by entry {}: {}", each.replaces, each.entry, entry.reason);
        });
    }
    return told;
}

} // namespace tarewell::figures
