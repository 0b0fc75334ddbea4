#pragma once
#include "desk/answer.hpp"
#include "ledger/ledger.hpp"

#include <string>

namespace tarewell::desk {

/// A processor's settlement as somebody has it on paper; what is not told stays empty.
struct settling {
    std::string shipment;                         ///< its id
    std::string date;                             ///< empty: the day of the entry
    std::string received, rejected, weight, unit; ///< by the processor's scale; `weight` is what it accepted
    std::string reason, bale, disposition;        ///< of what it rejected; with a bale, a reject is recorded too
    std::string price, charge, per;               ///< what it pays or charges
    std::string amount, invoice, document;        ///< the amount is checked, never taken
    std::string method, category, fund, source;   ///< of the income; of the cost
    std::string once;
};

/// Records the acceptance where there is none yet, a reject where a bale is named, and the income or cost that the
/// price or charge makes, price x accepted weight, rounded half up once: all in one deed. Answers with what was
/// recorded. Throws records::input_error where the amount or the acceptance recorded before says otherwise, or the
/// money is there already.
answer settle(ledger::ledger_file& to, const settling& of, const ledger::surroundings& around);

} // namespace tarewell::desk
