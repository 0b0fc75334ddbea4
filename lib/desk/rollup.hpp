#pragma once
#include "desk/answer.hpp"
#include "figures/filed_closing.hpp"
#include "figures/ledgers_summed.hpp"
#include "ledger/ledger.hpp"

#include <functional>
#include <optional>
#include <span>
#include <string>
#include <vector>

namespace tarewell::desk {

using records::entry_no;

/// One ledger of a rollup: what it filed for the period, or what it has so far.
struct rolled_ledger {
    std::string label; ///< "A": its place on the page
    std::string path;
    records::award terms;   ///< in force on the period's last day
    figures::report report; ///< as of the closing's entry, or of the head
    figures::summand brings;
    ledger::journal_head as_of, head; ///< the head is the one at which the file was read
    std::optional<figures::filed_closing> filed;
    std::string quarters_filed; ///< of an open period of several quarters: "2026-Q1, 2026-Q2"
    bool nothing_dated = false; ///< every figure of the period's days is 0

    [[nodiscard]] const quantity::span_of_days& days() const { return report.basis.days; }
    /// "as filed", "open"
    [[nodiscard]] const char* state() const { return filed ? "as filed" : "open"; }
};

/// What some of the ledgers come to together.
struct rolled_sum {
    std::string name; ///< "Summed", "Summed, 2026-04-01 to 2026-06-30"
    std::vector<std::size_t> ledgers;
    quantity::span_of_days days; ///< the first to the last of all
    bool same_days = true;
    figures::ledgers_summed sum;
};

/// Awards, states or years side by side and summed. Ledgers of the same days stand together.
struct rollup {
    quantity::period period;
    quantity::weight_unit unit = quantity::weight_unit::lb; ///< of the sums
    std::vector<rolled_ledger> ledgers;
    std::vector<rolled_sum> sums; ///< where days differ, one for the ledgers of the same days; the last is of all
    std::vector<std::string> notes;

    [[nodiscard]] bool same_days() const { return sums.back().same_days; }
    [[nodiscard]] std::string title() const;
};

struct rollup_request {
    std::vector<std::string> ledgers; ///< files, or databases
    std::string period;
    std::optional<quantity::weight_unit> unit; ///< none: the first ledger's
    std::size_t at_once = 0;                   ///< so many ledgers' rows are in memory; 0: as many as fit, at most two
    std::function<void(std::size_t read)> progress = {}; ///< from any thread, one at a time
};

/// Reads each ledger in turn. Throws what is wrong with a ledger, by its name and with what to do, before anything is
/// reckoned: one that is missing, damaged, newer, busy or without an award, one that is named twice or is a copy of
/// another; records::refused where several are wrong. Throws records::input_error for a period that is none.
rollup roll_up(const rollup_request& what);

/// What a reader looks for first, under a short heading.
struct main_figure {
    std::string_view name, heading;
};
std::span<const main_figure> main_figures();

/// The whole of it: for people all figures side by side, or of many ledgers the main ones; for machines everything.
answer told(const rollup& of);

} // namespace tarewell::desk
