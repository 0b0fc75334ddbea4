#pragma once
#include "clerk.hpp"

namespace tarewell::tests {

/// A command at a terminal: the lines that are typed where it asks, and the answers to its questions (no, once they are
/// used up); without `yes` it does not ask. Prompts and what was typed stand in `err`.
inline answered typed_at(const clerk& at, const std::vector<std::string>& arguments,
                         const std::vector<std::string>& lines,
                         const std::optional<std::vector<bool>>& yes = std::nullopt) {
    std::ostringstream out, err;
    std::size_t line = 0, asked = 0;
    cli::context with{out,
                      err,
                      false,
                      [&](const std::string& name) { return name == "TAREWELL_LEDGER" ? at.ledger_path() : ""; },
                      {standing_still().now, standing_still().random, "Maud Ellery"}};
    with.read_line = [&](const std::string& prompt) -> std::optional<std::string> {
        err << prompt;
        if (line == lines.size()) return std::nullopt;
        err << lines[line] << '\n';
        return lines[line++];
    };
    if (yes)
        with.ask = [&](const std::string& question) {
            err << question << '\n';
            return asked < yes->size() && (*yes)[asked++];
        };
    const int code = cli::run(arguments, with);
    return {code, out.str(), err.str()};
}

} // namespace tarewell::tests
