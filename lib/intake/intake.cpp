#include "intake/intake.hpp"

#include "intake/session.hpp"

#include <fmt/format.h>

#include <filesystem>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT

namespace {

std::vector<std::string> texts_of(const std::string& path, const std::vector<finding>& findings) {
    std::vector<std::string> lines;
    for (const auto& each : findings)
        lines.push_back(each.text(path));
    return lines;
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
    session taking{to, around, !options.dry_run};
    std::vector<finding> findings;
    auto summary = taking.take(which, path, findings, options);
    if (!findings.empty()) throw refused(path, std::move(findings));
    if (options.seen) options.seen(taking.season());
    if (!options.dry_run) taking.commit();
    return summary;
}

std::vector<file_summary> take_season(ledger_file& to, const std::string& folder, const surroundings& around,
                                      const intake_options& options) {
    namespace fs = std::filesystem;
    if (!fs::is_directory(folder))
        throw io_error(folder + " is not a folder; name the folder that holds the season's CSV files");
    session taking{to, around, !options.dry_run};
    std::vector<file_summary> summaries;
    std::vector<std::string> lines;
    for (const auto which : season_files()) {
        const auto path = (fs::path{folder} / fmt::format("{}.csv", info(which).file)).string();
        if (!fs::exists(path)) continue;
        std::vector<finding> findings;
        summaries.push_back(taking.take(which, path, findings, options));
        for (auto& line : texts_of(path, findings))
            lines.push_back(std::move(line));
    }
    if (summaries.empty())
        throw input_error(folder + " holds none of a season's files, such as award.csv or bundles.csv");
    if (!lines.empty()) throw refused(std::move(lines));
    if (options.seen) options.seen(taking.season());
    if (!options.dry_run) taking.commit();
    return summaries;
}

} // namespace tarewell::intake
