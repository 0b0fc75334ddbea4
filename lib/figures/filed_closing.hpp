#pragma once
#include "figures/closing.hpp"

namespace tarewell::figures {

/// A closing as it stands on the report that was filed with it, withdrawn since or not.
struct filed_closing {
    records::entry_no entry = 0;
    closing_signatures signatures;
    std::vector<std::pair<std::string, std::string>> accepted; ///< flag code, reason
    std::string early;                                         ///< why before the quarter was over
    std::string withdrawn_before; ///< the closing of the quarter that was withdrawn before this one, and why
};

/// The closing of a quarter at this sequence; none when nobody closed it there.
std::optional<filed_closing> filed_at(const ledger::ledger_file& file, quantity::quarter quarter,
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

/// Takes a closing back: the quarter is open again, and what was filed can still be printed as of its entry. Returns
/// the withdrawal's entry. Throws records::refused when the quarter is not closed or the reason is empty.
records::entry_no withdraw_quarter(ledger::ledger_file& file, quantity::quarter quarter, const std::string& reason,
                                   const ledger::surroundings& around);

/// The closing of a quarter that was withdrawn last by `seq`, told in words; empty where none was.
std::string last_withdrawn(const ledger::ledger_file& file, quantity::quarter quarter, records::entry_no seq);

} // namespace tarewell::figures
