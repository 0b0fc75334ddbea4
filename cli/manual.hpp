#pragma once
#include "command_line.hpp"

#include <iosfwd>

namespace tarewell::cli {

/// The manual page, in the man macros that man(7) describes.
void write_man_page(const std::vector<described_command>& commands, std::ostream& out);

/// Completion of commands, options and their words, for bash, zsh and fish. File names are left to the shell.
void write_bash_completion(const std::vector<described_command>& commands, std::ostream& out);
void write_zsh_completion(const std::vector<described_command>& commands, std::ostream& out);
void write_fish_completion(const std::vector<described_command>& commands, std::ostream& out);

} // namespace tarewell::cli
