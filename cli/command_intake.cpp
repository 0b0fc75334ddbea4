#include "context.hpp"
#include "desk/echo.hpp"
#include "desk/maps.hpp"
#include "intake/intake.hpp"
#include "intake/workbook.hpp"
#include "records/kinds.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

struct intake_options {
    std::string what, path, sheet, map;
    bool dry_run = false, preview = false;
};

std::vector<std::string> kinds_taken_in() {
    std::vector<std::string> kinds{"season"};
    for (const auto& kind : records::recorded_kinds())
        kinds.emplace_back(kind.file);
    return kinds;
}

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

/// What was typed as one word is a path, and its kind is told by the file.
intake_options understood(intake_options typed) {
    if (typed.path.empty()) std::swap(typed.what, typed.path);
    if (typed.path.empty()) throw missing_argument("PATH");
    const auto kinds = kinds_taken_in();
    if (!typed.what.empty() && std::find(kinds.begin(), kinds.end(), typed.what) == kinds.end())
        throw missing_argument(
            fmt::format("KIND (one of {}{})", fmt::join(kinds, ", "), records::did_you_mean(typed.what, kinds)));
    if (typed.what.empty() && std::find(kinds.begin(), kinds.end(), typed.path) != kinds.end() &&
        !std::filesystem::exists(typed.path))
        throw missing_argument("PATH");
    if (typed.what.empty() && std::filesystem::is_directory(typed.path)) typed.what = "season";
    return typed;
}

std::vector<intake::file_summary> take_in(const intake_options& options, ledger::ledger_file& file,
                                          const ledger::surroundings& around, const intake::intake_options& how) {
    if (options.what.empty() || (options.what == "season" && intake::is_workbook_name(options.path)))
        return intake::take_tables(file, options.path, around, how);
    if (options.what == "season") return intake::take_season(file, options.path, around, how);
    return {intake::take_file(file, records::find_kind(options.what)->which, options.path, around, how)};
}

/// By a map, which says what the file holds.
std::vector<intake::file_summary> take_by_map(const intake_options& options, ledger::ledger_file& file, context& with,
                                              const intake::intake_options& how) {
    if (!options.what.empty()) throw records::input_error("a map says what the file holds; leave the KIND out");
    const auto map = [&] {
        try {
            return intake::map_named(file, options.map);
        } catch (const records::refused& incomplete) {
            throw records::refused(desk::with_words_of_keys(incomplete.lines()));
        }
    }();
    auto taken = intake::take_mapped(file, options.path, map, with.writing(), how);
    if (options.preview) {
        with.print(desk::preview_of(taken));
        return {};
    }
    if (!taken.faults.empty()) throw records::refused(desk::with_words_of_keys(std::move(taken.faults)));
    with.err << desk::doubts_of(taken.sheet);
    for (const auto& each : taken.sheet.notes)
        with.err << each << '\n';
    return std::move(taken.files);
}

void run_intake(const intake_options& typed, context& with) {
    const auto options = understood(typed);
    if (options.preview && options.map.empty())
        throw records::input_error(
            "--preview shows what a map makes of a file; give --map NAME, or --dry-run in its place");
    auto file = with.open();
    const auto around = with.writing();
    intake::intake_options how{options.dry_run || options.preview};
    how.sheet = options.sheet;
    std::string passed_over;
    how.passed_over = [&](const std::string& sentence) { passed_over += sentence + "\n"; };
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
        summaries = options.map.empty() ? take_in(options, file, around, how) : take_by_map(options, file, with, how);
    } catch (...) {
        clear();
        with.err << passed_over;
        throw;
    }
    clear();
    if (options.preview) return;
    tell_all(summaries, options.dry_run, with.out);
    with.err << passed_over << desk::raised_by_intake(flags, first_new, summaries);
}

} // namespace

void add_intake(const command& program, context& with) {
    auto sub = program.add("intake", "take in a CSV file or an .xlsx workbook, or a whole season's folder");
    auto& options = program.keep<intake_options>();
    sub.value("KIND", options.what,
              "what the file holds, such as tickets; 'season' for a folder; may be left out where the file's name or "
              "header tells it");
    sub.value("PATH", options.path, "the CSV file, the workbook or the folder");
    sub.value("--sheet", options.sheet, "of a workbook, where its sheets' names and headers do not tell which one");
    sub.value("--map", options.map, "the map by which somebody else's sheet is read; see: tarewell intake map");
    sub.flag("--preview", options.preview,
             "with --map: show what each row becomes and what is doubtful, and write nothing");
    sub.flag("--json", with.json, "JSON output, with --preview");
    sub.flag("--dry-run", options.dry_run, "check everything and write nothing");
    sub.does([&options, &with] { run_intake(options, with); });
    add_map(sub, with);
}

} // namespace tarewell::cli
