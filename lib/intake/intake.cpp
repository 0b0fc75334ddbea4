#include "intake/intake.hpp"

#include "intake/season_folder.hpp"
#include "intake/session.hpp"
#include "intake/workbook.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <filesystem>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

/// What a workbook holds besides rows.
void add_notes_of(table_file& file, file_summary& summary) {
    if (!file.is_workbook() || summary.rows == 0) return; // without rows it may be no workbook at all
    const auto& notes = file.book().notes();
    summary.notes.insert(summary.notes.end(), notes.begin(), notes.end());
}

void take_one(session& taking, kind which, table_file& file, const std::string& sheet, const intake_options& options,
              std::vector<file_summary>& summaries, std::vector<std::string>& lines) {
    std::vector<finding> findings;
    const bool first = summaries.empty() || !summaries.back().file.starts_with(file.path());
    summaries.push_back(taking.take(which, file, sheet, findings, options));
    if (first) add_notes_of(file, summaries.back());
    for (const auto& each : findings)
        lines.push_back(each.text(summaries.back().file));
}

void end(session& taking, std::vector<std::string> lines, const intake_options& options) {
    if (!lines.empty()) throw refused(std::move(lines));
    if (options.seen) options.seen(taking.season());
    if (!options.dry_run) taking.commit();
}

} // namespace

std::vector<kind> season_files() {
    std::vector<kind> files;
    for (const auto& each : all_kinds())
        if (each.in_season) files.push_back(each.which);
    return files;
}

file_summary take_file(ledger_file& to, kind which, const std::string& path, const surroundings& around,
                       const intake_options& options) {
    table_file file{path};
    session taking{to, around, !options.dry_run};
    std::vector<file_summary> summaries;
    std::vector<std::string> lines;
    take_one(taking, which, file, options.sheet, options, summaries, lines);
    end(taking, std::move(lines), options);
    return summaries.front();
}

std::vector<file_summary> take_tables(ledger_file& to, const std::string& path, const surroundings& around,
                                      const intake_options& options) {
    table_file file{path};
    std::vector<std::string> passed_over;
    std::vector<chosen_table> chosen;
    try {
        chosen = tables_of(file, options.sheet, passed_over);
    } catch (const unreadable& wrong) {
        throw refused({fmt::format("{}: {}; {}", path, wrong.what(), wrong.right)});
    }
    session taking{to, around, !options.dry_run};
    std::vector<file_summary> summaries;
    std::vector<std::string> lines;
    for (const auto& each : chosen)
        take_one(taking, each.which, file, each.sheet, options, summaries, lines);
    if (options.passed_over && !passed_over.empty())
        options.passed_over(fmt::format("{}: passed over, since their headings are those of no kind of record: {}",
                                        path, fmt::join(passed_over, ", ")));
    end(taking, std::move(lines), options);
    return summaries;
}

std::vector<file_summary> take_season(ledger_file& to, const std::string& folder, const surroundings& around,
                                      const intake_options& options) {
    if (!std::filesystem::is_directory(folder))
        throw io_error(folder + " is not a folder; name the folder that holds the season's CSV files");
    const auto held = files_of_season(folder);
    if (held.files.empty())
        throw input_error(fmt::format("{} holds none of a season's files, such as award.csv or bundles.csv{}{}", folder,
                                      held.passed_over.empty() ? "" : ": ", fmt::join(held.passed_over, "; ")));
    session taking{to, around, !options.dry_run};
    std::vector<file_summary> summaries;
    std::vector<std::string> lines;
    for (const auto& [which, path] : held.files) {
        table_file file{path};
        take_one(taking, which, file, {}, options, summaries, lines);
    }
    for (const auto& each : held.passed_over)
        if (options.passed_over) options.passed_over(fmt::format("{}: {}", folder, each));
    end(taking, std::move(lines), options);
    return summaries;
}

} // namespace tarewell::intake
