#pragma once
#include "figures/audit_figures.hpp"
#include "intake/intake.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/reckoning.hpp"
#include "records/season.hpp"
#include "support.hpp"

#include <map>

namespace tarewell::tests {

/// The files of a season by name, as a folder would hold them; settings.csv too.
using season_files = std::map<std::string, std::string>;

/// The same files with one file's only place of `old_text` changed.
inline season_files changed(season_files files, const std::string& name, std::string_view old_text,
                            std::string_view new_text) {
    auto& text = files.at(name);
    const auto at = text.find(old_text);
    if (at == std::string::npos || text.find(old_text, at + 1) != std::string::npos)
        throw std::logic_error(fmt::format("{} does not hold '{}' once", name, old_text));
    text.replace(at, old_text.size(), new_text);
    return files;
}

/// The same files with rows added to the end of one.
inline season_files added(season_files files, const std::string& name, std::string_view rows) {
    files.at(name) += rows;
    return files;
}

/// A season taken into a ledger of its own, reckoned as it stands.
class reckoned_season {
  public:
    explicit reckoned_season(const season_files& files)
        : reckoned_season{[&](const temporary_folder& folder) {
              for (const auto& [name, text] : files)
                  folder.write(name, text);
              return folder.path();
          }} {}
    /// From a folder of the source tree, such as "sample_data/season".
    explicit reckoned_season(const std::string& below)
        : reckoned_season{[&](const temporary_folder&) { return source_path(below); }} {}

    [[nodiscard]] ledger::ledger_file& file() { return file_; }
    [[nodiscard]] const ledger::surroundings& around() const { return around_; }
    [[nodiscard]] const records::season& season() const { return season_; }
    [[nodiscard]] const reconcile::reckoning& reckoned() const { return reckoned_; }
    [[nodiscard]] records::entry_no head() const { return file_.head().seq; }

    /// Reads the ledger again, after a change or as it stood.
    void read(records::entry_no as_of) {
        season_ = ledger::load_season(file_, as_of);
        reckoned_ = reconcile::reckon(season_);
    }
    [[nodiscard]] figures::report figures(const quantity::period& period) const {
        return figures::figures_of(season_, reckoned_, period, head(), false);
    }
    /// With the statistics, as a report shows them.
    [[nodiscard]] figures::report all_figures(const quantity::period& period) const {
        auto report = figures(period);
        figures::add_statistics(report, season_, reckoned_);
        return report;
    }
    /// The rows behind a figure of one of its reports; as many as the figure says.
    [[nodiscard]] std::vector<reconcile::evidence_row> evidence(const figures::report& of,
                                                                std::string_view figure) const {
        auto rows = figures::evidence_of(figure, of.basis, season_, reckoned_);
        if (rows.size() != of.find(figure)->rows)
            throw std::logic_error(
                fmt::format("{} has {} rows and says {}", figure, rows.size(), of.find(figure)->rows));
        return rows;
    }
    [[nodiscard]] const reconcile::bale_outcome& bale(std::string_view id) const {
        return reckoned_.at(season_.find_bale(id));
    }
    [[nodiscard]] const reconcile::bundle_outcome& bundle(std::string_view id) const {
        return reckoned_.at(season_.find_bundle(id));
    }
    /// "ticket T3": a row by its kind and key; "?" for one that the ledger has not.
    [[nodiscard]] std::string name_of(records::kind which, records::entry_no entry) const {
        std::string key = "?";
        file_.with_entry(which, entry,
                         [&](const ledger::stored_row& row) { key = records::key_for_people(row.values); });
        return fmt::format("{} {}", records::info(which).name, key);
    }

  private:
    template <class Folder>
    requires std::is_invocable_v<Folder, const temporary_folder&>
    explicit reckoned_season(Folder&& folder_of) : file_{ledger::ledger_file::create(folder_.file("basin.tarewell"))} {
        const std::string path = folder_of(folder_);
        intake::take_season(file_, path, around_);
        if (const auto settings = path + "/settings.csv"; std::filesystem::exists(settings))
            intake::take_file(file_, records::kind::setting, settings, around_);
        read(head());
    }

    temporary_folder folder_;
    ledger::surroundings around_ = standing_still();
    ledger::ledger_file file_;
    records::season season_;
    reconcile::reckoning reckoned_;
};

/// Half the ways a figure can be asked for in a check: its value as text, "" where it is undefined.
inline std::string text_of(const figures::report& report, std::string_view name) {
    const auto* figure = report.find(name);
    if (figure == nullptr) throw std::logic_error(fmt::format("no figure {}", name));
    return figures::text_of(figure->value);
}

/// Every season that the tests keep, by folder of the source tree.
inline const std::vector<std::string>& kept_seasons() {
    static const std::vector<std::string> folders{
        "sample_data/season", "tests/golden/seasons/plain", "tests/golden/seasons/shipped_indirect",
        "tests/golden/seasons/accepted_grant_match", "tests/golden/seasons/kilograms_july"};
    return folders;
}

} // namespace tarewell::tests
