#pragma once
#include "desk/answer.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::desk {

/// What a call was recorded as.
struct registered_call {
    std::string registration, grower, site, date;
    bool new_grower = false, by_count = false;
    std::string not_counted; ///< what was said in the place of how many bundles: "don't know"
    std::vector<records::entry_no> entries;
};

/// The registration, its labels and what to tell the grower.
answer told_of(const ledger::ledger_file& file, const registered_call& of);

} // namespace tarewell::desk
