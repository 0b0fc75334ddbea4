#include "context.hpp"
#include "figures/figure.hpp"
#include "manual.hpp"
#include "reconcile/flags.hpp"
#include "records/settings.hpp"

#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

constexpr std::size_t most_written_out = 20; // a command for each kind of record says the same of each

std::string row(const std::vector<std::string>& cells) { return fmt::format("| {} |\n", fmt::join(cells, " | ")); }

std::string heading_row(const std::vector<std::string>& headings) {
    return row(headings) + row(std::vector<std::string>(headings.size(), "---"));
}

std::string line_of(const described_option& of) {
    auto name = fmt::format("`{}`", of.name);
    if (!of.takes.empty() && of.name.starts_with("--")) name = fmt::format("`{} {}`", of.name, of.takes);
    return row({name, of.required ? "yes" : "", of.usual, of.what});
}

void write_command(const described_command& of, const std::string& before, std::ostream& out) {
    const auto name = before + " " + of.name;
    out << fmt::format("### `{}`\n\n{}.\n\n", name, of.what);
    if (!of.example.empty()) out << fmt::format("    {}\n\n", of.example);
    if (!of.options.empty()) {
        out << heading_row({"takes", "needed", "usual", "what"});
        for (const auto& each : of.options)
            out << line_of(each);
        out << '\n';
    }
    if (of.below.size() > most_written_out) {
        std::vector<std::string> kinds;
        for (const auto& each : of.below)
            kinds.push_back(fmt::format("`{}`", each.name));
        out << fmt::format("For each kind of record: {}. The columns of its file, below, are options, `--COLUMN "
                           "VALUE`; `{} KIND --help` lists them.\n\n",
                           fmt::join(kinds, ", "), name);
        return;
    }
    for (const auto& each : of.below)
        write_command(each, name, out);
}

void write_kind(const records::kind_info& kind, std::ostream& out) {
    out << fmt::format("### `{}.csv`{}\n\nA row is a {}; its key is {}{}.\n\n", kind.file,
                       kind.internal ? " (listed, not imported)" : "", kind.name, kind.columns[kind.key[0]].name,
                       kind.key_columns == 2 ? fmt::format(" and {}", kind.columns[kind.key[1]].name) : "");
    out << heading_row({"column", "needed", "holds", ""});
    for (const auto& each : kind.columns)
        out << row({std::string{each.name}, each.required ? "yes" : "", what_it_takes(each),
                    each.personal ? "personal: can be erased"
                    : each.shared ? "the same in every row of one record"
                                  : ""});
    out << '\n';
}

void write_tables(std::ostream& out) {
    out << "## Files and their columns\n\nCSV, UTF-8, with a header; columns in any order, those not needed may be "
           "left out.\n\n";
    for (const auto& each : records::all_kinds())
        write_kind(each, out);
    out << "## Figures of a quarter\n\n" << heading_row({"figure", "what it is"});
    for (const auto& each : figures::all_figure_names())
        out << row({std::string{each.name}, std::string{each.meaning}});
    out << "\n## Flags\n\nFlagged rows count in every figure.\n\n" << heading_row({"flag", "level", "means"});
    for (const auto& each : reconcile::flag_codes())
        out << row({std::string{each.code}, std::string{name_of(each.level)}, std::string{each.meaning}});
    out << "\n## Settings\n\n" << heading_row({"setting", "default", "meaning"});
    for (const auto& each : records::all_settings())
        out << row({std::string{each.name}, std::string{each.default_value}, std::string{each.meaning}});
}

void write_reference(const std::vector<described_command>& commands, std::ostream& out) {
    out << "# Reference\n\nWritten by `tarewell reference` from the program's own tables; a test holds this file to "
           "it.\n\n## Commands\n\nEvery command takes `--ledger FILE` (or set TAREWELL_LEDGER) and `--who NAME` (or "
           "set "
           "TAREWELL_WHO). `--help` says what\na command takes, `--json` gives its answer to machines.\n\n";
    for (const auto& each : commands)
        write_command(each, "tarewell", out);
    write_tables(out);
    out << "\n## Exit codes\n\n" << heading_row({"code", "means"});
    for (const auto& each : exit_codes())
        out << row({std::to_string(each.code), each.meaning});
}

} // namespace

void add_reference(const command& program, context& with) {
    auto sub =
        program.add("reference", "print the reference of commands, files, figures, flags, settings and exit codes");
    auto& form = sub.keep<std::string>();
    form = "markdown";
    sub.value("FORM", form, "markdown, the manual page (man), or completion for a shell (bash, zsh, fish)")
        .one_of({"markdown", "man", "bash", "zsh", "fish"});
    sub.does([&form, &with] {
        // The table of commands asks for a world, and reaches for none of it while nothing is called.
        context nowhere{with.out, with.out, false, [](const std::string&) { return std::string{}; }, {}};
        command_line line{"tarewell", {}};
        set_up(line, nowhere);
        const auto write = form == "man"    ? write_man_page
                           : form == "bash" ? write_bash_completion
                           : form == "zsh"  ? write_zsh_completion
                           : form == "fish" ? write_fish_completion
                                            : write_reference;
        write(line.commands(), with.out);
    });
}

} // namespace tarewell::cli
