#pragma once
#include "figures/closing.hpp"

namespace tarewell::figures {

/// A closing as it stands on the report that was filed with it, withdrawn since or not.
struct filed_closing {
    records::entry_no entry = 0;
    closing_signatures signatures;
    std::vector<std::pair<std::string, std::string>> accepted; ///< flag code, reason
    std::string early;                                         ///< why before the period was over
    std::string withdrawn_before; ///< the closing of the period that was withdrawn before this one, and why
    std::string over_open;        ///< the quarters that were open, and why it was closed over them
    std::string figures;          ///< as filed_text wrote them
};

/// The closing of a period at this sequence; none when nobody closed it there.
std::optional<filed_closing> filed_at(const ledger::ledger_file& file, const quantity::period& period,
                                      records::entry_no as_of);

/// What a reader of the certification should know besides the names: doubts accepted and why, an early closing, a
/// closing withdrawn before, and names that are a question.
struct closing_remark {
    std::string what, text;
};
std::vector<closing_remark> remarks_of(const filed_closing& closing);

/// Whether a text can be read as a reason: three letters at least.
bool is_reason(const std::string& text);

/// Why the names may not be three persons'; empty where they may.
std::string doubt_of_signers(const closing_signatures& signers);

/// Takes a closing back: the period is open again, and what was filed can still be printed as of its entry. Returns
/// the withdrawal's entry. Throws records::refused when the period is not closed or the reason is empty.
records::entry_no withdraw_period(ledger::ledger_file& file, const quantity::period& period, const std::string& reason,
                                   const ledger::surroundings& around);

/// The closing of a period that was withdrawn last by `seq`, told in words; empty where none was.
std::string last_withdrawn(const ledger::ledger_file& file, const quantity::period& period, records::entry_no seq);

} // namespace tarewell::figures
