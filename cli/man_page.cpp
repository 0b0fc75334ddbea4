#include "context.hpp"
#include "manual.hpp"

#include <fmt/ranges.h>

#include <ostream>
#include <version.hpp>

namespace tarewell::cli {
namespace {

/// Text as roff reads it: backslashes and hyphens kept, no line that begins like a request (man(7), groff_char(7)).
std::string roff(std::string_view text) {
    std::string made;
    for (const char c : text) {
        if (c == '\\')
            made += "\\e";
        else if (c == '-')
            made += "\\-";
        else if (c == ',')
            made += ",\\:"; // a long list of words may break here
        else
            made += c;
    }
    return made.starts_with('.') || made.starts_with('\'') ? "\\&" + made : made;
}

constexpr std::size_t most_written_out = 20; // a command for each kind of record says the same of each

void write_command(const described_command& of, const std::string& before, std::ostream& out) {
    const auto name = before.empty() ? of.name : before + " " + of.name;
    if (of.below.empty() || !of.options.empty()) {
        out << fmt::format(".SS {}\n{}.\n", roff(name), roff(of.what));
        for (const auto& each : of.options)
            out << fmt::format(".TP\n\\fB{}\\fR{}\n{}{}\n", roff(each.name),
                               each.takes.empty() || !each.name.starts_with("--") ? ""
                                                                                  : " \\fI" + roff(each.takes) + "\\fR",
                               each.what.empty() ? "\\&" : roff(each.what), each.required ? " (needed)" : "");
        if (!of.example.empty()) out << fmt::format(".PP\nExample:\n.PP\n.nf\n.RS\n{}\n.RE\n.fi\n", roff(of.example));
    }
    if (of.below.size() > most_written_out) {
        std::vector<std::string> kinds;
        for (const auto& each : of.below)
            kinds.push_back(each.name);
        out << fmt::format(
            ".SS {} KIND\n{}. KIND is one of: {}. \\fBtarewell {} KIND \\-\\-help\\fR lists what each takes.\n",
            roff(name), roff(of.what), fmt::join(kinds, ", "), roff(name));
        return;
    }
    for (const auto& each : of.below)
        write_command(each, name, out);
}

} // namespace

void write_man_page(const std::vector<described_command>& commands, std::ostream& out) {
    out << fmt::format(R"(.TH TAREWELL 1 "" "Tarewell {}" "User Commands"
.SH NAME
tarewell \- a ledger for programs that collect used agricultural film
.SH SYNOPSIS
.B tarewell
[\fB\-\-ledger\fR \fIFILE\fR] [\fB\-\-who\fR \fINAME\fR] \fICOMMAND\fR ...
.SH DESCRIPTION
Keeps each bundle from a grower's estimate to a weighed bale, holds estimates against the scale, and writes the
quarterly diversion and cost summaries that a grant asks for. Nothing that was recorded is ever changed or lost: a
correction is an entry of its own that says why.
.ad l
.SH COMMANDS
)",
                       version);
    for (const auto& each : commands)
        write_command(each, {}, out);
    out << ".SH EXIT STATUS\n";
    for (const auto& each : exit_codes())
        out << fmt::format(".TP\n.B {}\n{}\n", static_cast<int>(each.code), roff(each.meaning));
    out << R"(.SH ENVIRONMENT
.TP
.B TAREWELL_LEDGER
The ledger's file, where no \fB\-\-ledger\fR is given.
.TP
.B TAREWELL_WHO
Who makes the entries, where no \fB\-\-who\fR is given.
.SH CAUTIONS
Bundles and bales are heavy and baling wire is under tension: lift with help, keep clear of the ram, and follow your
site's rules and local codes. This program is not legal or accounting advice; the award's terms govern.
)";
}

} // namespace tarewell::cli
