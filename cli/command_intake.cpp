#include "context.hpp"
#include "desk/echo.hpp"
#include "intake/intake.hpp"
#include "records/kinds.hpp"

#include <fmt/format.h>

#include <ostream>

namespace tarewell::cli {
namespace {

struct intake_options {
    std::string what, path;
    bool dry_run = false;
};

void tell(const intake::file_summary& summary, bool dry_run, std::ostream& out) {
    const char* verb = dry_run ? "would be imported" : "imported";
    out << fmt::format("{}: {} {}", summary.file, summary.taken, verb);
    if (summary.known > 0) out << fmt::format(", {} known already", summary.known);
    if (!dry_run && summary.taken == 1) out << fmt::format(" (entry {})", summary.first);
    if (!dry_run && summary.taken > 1) out << fmt::format(" (entries {} to {})", summary.first, summary.last);
    out << '\n';
    for (const auto& note : summary.notes)
        out << "  " << note << '\n';
}

void tell_all(const std::vector<intake::file_summary>& summaries, bool dry_run, std::ostream& out) {
    std::size_t taken = 0;
    for (const auto& each : summaries) {
        tell(each, dry_run, out);
        taken += each.taken;
    }
    if (taken == 0)
        out << "nothing changed: the ledger holds all of it already\n";
    else if (dry_run)
        out << "dry run: nothing was changed\n";
}

void run_intake(const intake_options& options, context& with) {
    auto file = with.open();
    const auto around = with.writing();
    intake::intake_options how{options.dry_run, {}};
    if (with.talk_on_terminal)
        how.progress = [&](const std::string& name, std::size_t at, std::size_t whole) {
            with.err << fmt::format("\r{}: {:.0f} %\x1b[K", name,
                                    100.0 * static_cast<double>(at) / static_cast<double>(whole))
                     << std::flush;
        };
    const auto clear = [&] {
        if (with.talk_on_terminal) with.err << "\r\x1b[K" << std::flush;
    };
    std::vector<reconcile::flag> flags;
    const auto first_new = file.head().seq + 1;
    how.seen = [&](const records::season& season) {
        if (file.head().seq <= desk::most_entries_told_at_once)
            flags = figures::flags_of(season, reconcile::reckon(season));
    };
    std::vector<intake::file_summary> summaries;
    try {
        if (options.what == "season") {
            summaries = intake::take_season(file, options.path, around, how);
        } else {
            const auto* kind = records::find_kind(options.what);
            summaries.push_back(intake::take_file(file, kind->which, options.path, around, how));
        }
    } catch (...) {
        clear();
        throw;
    }
    clear();
    tell_all(summaries, options.dry_run, with.out);
    with.err << desk::raised_by_intake(flags, first_new, summaries);
}

} // namespace

void add_intake(const command& program, context& with) {
    auto sub = program.add("intake", "take in a CSV file, or a whole season's folder");
    auto& options = program.keep<intake_options>();
    std::vector<std::string> kinds{"season"};
    for (const auto& kind : records::recorded_kinds())
        kinds.emplace_back(kind.file);
    sub.value("KIND", options.what, "what the file holds, or 'season' for a folder").required().one_of(kinds);
    sub.value("PATH", options.path, "the CSV file or the folder").required();
    sub.flag("--dry-run", options.dry_run, "check everything and write nothing");
    sub.does([&options, &with] { run_intake(options, with); });
}

} // namespace tarewell::cli
