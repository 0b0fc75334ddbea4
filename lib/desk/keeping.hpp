#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"
#include "intake/intake.hpp"

namespace tarewell::desk {

// Notes and settings: what is there already is written anew, with a reason.

/// Every setting with its default and its values by day.
answer settings_of(const looked_at& at);
intake::change_summary keep_setting(ledger::ledger_file& file, const std::string& name, const std::string& from,
                                    const std::string& value, const std::string& why,
                                    const ledger::surroundings& around);

/// Says of a ticket or a registration ("ticket", "registration") that the office has seen it to be right.
intake::change_summary confirm(ledger::ledger_file& file, const std::string& what, const std::string& id,
                               const std::string& why, const ledger::surroundings& around);

/// The paragraphs of a quarter's report, all or of one part.
answer notes_of(const season_view& seen, const std::string& quarter, const std::string& part);
intake::change_summary keep_note(ledger::ledger_file& file, const std::string& quarter, const std::string& part,
                                 const std::string& text, const std::string& why, const ledger::surroundings& around);
/// The paragraphs in a text file, without the line ends that close it. Throws records::io_error.
std::string text_of_file(const std::string& path);

} // namespace tarewell::desk
