#pragma once
#include "intake/intake.hpp"

namespace tarewell::intake {

/// What one deed of several rows may do; a fault of a row ends it.
struct deeds {
    record_one record; ///< refused where the ledger holds the record already
    /// Nothing where the record says so already.
    std::function<void(records::kind which, const std::vector<std::string>& key, const named_values& changes)> correct;
};

/// Corrects and records rows one after another as one deed, as record_all does.
change_summary change_all(ledger::ledger_file& to, const std::string& deed,
                          const std::function<void(const deeds&)>& body, const ledger::surroundings& around,
                          const std::string& once = {}, const std::string& reason = {});

} // namespace tarewell::intake
