#include "intake/season_folder.hpp"

#include "intake/intake.hpp"
#include "records/errors.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cerrno>
#include <dirent.h>
#include <filesystem>
#include <memory>
#include <set>

namespace tarewell::intake {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view endings[] = {".csv", ".xlsx"};

/// The file of ours that a name may have been meant for; empty where there is none near.
std::string meant_by(const std::string& name) {
    auto ending = fs::path{name}.extension().string();
    const auto stem = fs::path{name}.stem().string();
    std::vector<std::string> stems;
    for (const auto which : season_files())
        stems.emplace_back(records::info(which).file);
    const bool has_ours = std::any_of(std::begin(endings), std::end(endings),
                                      [&](auto each) { return records::same_but_for_case(ending, each); });
    if (!has_ours) return {};
    for (auto& letter : ending)
        if (letter >= 'A' && letter <= 'Z') letter = static_cast<char>(letter - 'A' + 'a');
    const auto near = records::near_names(stem, stems);
    return near.empty() ? std::string{} : near.front() + ending;
}

/// A kind that has files, and none in a season's folder: settings, amendments.
const records::kind_info* kind_beside_the_season(const std::string& name) {
    for (const auto& kind : records::recorded_kinds())
        for (const auto ending : endings)
            if (!kind.in_season && name == fmt::format("{}{}", kind.file, ending)) return &kind;
    return nullptr;
}

/// std::filesystem's iterator of GCC 12 ends the program where memory runs out between two names; readdir(3) needs none.
std::vector<std::string> names_in(const std::string& folder) {
    const std::unique_ptr<DIR, int (*)(DIR*)> open{opendir(folder.c_str()), closedir};
    if (!open)
        throw fs::filesystem_error("the folder cannot be read", folder,
                                   std::error_code{errno, std::generic_category()});
    std::vector<std::string> names;
    while (const auto* each = readdir(open.get()))
        names.emplace_back(each->d_name);
    return names;
}

} // namespace

season_folder files_of_season(const std::string& folder) {
    season_folder found;
    std::set<std::string> names;
    for (auto& name : names_in(folder))
        if (!fs::is_directory(fs::path{folder} / name)) names.insert(std::move(name));
    for (const auto which : season_files()) {
        std::vector<std::string> there;
        for (const auto ending : endings)
            if (auto name = fmt::format("{}{}", records::info(which).file, ending); names.erase(name) > 0)
                there.push_back((fs::path{folder} / name).string());
        if (there.size() > 1)
            throw records::input_error(
                fmt::format("{} are both there; leave one of them in the folder", fmt::join(there, " and ")));
        if (!there.empty()) found.files.emplace_back(which, there.front());
    }
    std::vector<std::string> others;
    for (const auto& name : names) {
        if (const auto* kind = kind_beside_the_season(name)) {
            found.passed_over.push_back(
                fmt::format("{} is not taken in with a season; take it in by itself: tarewell intake {} {}", name,
                            kind->file, (fs::path{folder} / name).string()));
            continue;
        }
        const auto meant = meant_by(name);
        if (meant.empty())
            others.push_back(name);
        else
            found.passed_over.push_back(fmt::format(
                "{} is passed over, since that is no name of a season's file; did you mean {}?", name, meant));
    }
    if (!others.empty())
        found.passed_over.push_back(fmt::format("not a season's files, and passed over: {}", fmt::join(others, ", ")));
    return found;
}

} // namespace tarewell::intake
