#pragma once
#include "intake/intake.hpp"
#include "intake/table_file.hpp"

namespace tarewell::intake {

using map_rules = std::map<std::string, std::string>;

/// Rules as a text file has them, a part of TOML: `dates = "mdy"`, `[growers]` before `name = "{Your name}"`, `#`
/// before what is only said. Throws records::refused with every line that is not so.
map_rules read_map_file(const std::string& text, const std::string& path);

/// The same, written; `said` are lines that are only said.
std::string map_file_of(const map_rules& rules, const std::vector<std::string>& said = {});

/// What a file's headings and values let one think: encoding, separator, order of dates, marks of numbers, and what its
/// headings may be of a kind, or of a form's growers, covers and bundles without one. What it cannot tell is `said`.
struct proposed_map {
    map_rules rules;
    std::vector<std::string> said;
};
proposed_map propose_map(table_file& file, std::optional<records::kind> of);

/// Writes a map's rules, new or changed, and voids those named in `without`: one act. Throws refused for rules that are
/// none, input_error for one in `without` that is not there.
change_summary keep_map(ledger::ledger_file& to, const std::string& name, const map_rules& rules,
                        const std::vector<std::string>& without, const std::string& why,
                        const ledger::surroundings& around);

} // namespace tarewell::intake
