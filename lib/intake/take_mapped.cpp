#include "intake/mapped.hpp"
#include "intake/session.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::intake {
namespace {

/// The records of one kind that a sheet's rows make, as rows of that kind's file.
class mapped_rows final : public row_reader {
  public:
    mapped_rows(const mapped_sheet& of, records::kind which) : kind_{records::info(which)} {
        for (const auto& row : of.rows)
            for (const auto& each : row.made)
                if (each.which == which && !each.known) rows_.push_back({row.line, &each.values});
    }
    bool next(csv_record& record, std::optional<csv_fault>& fault) override {
        fault.reset();
        record.fields.clear();
        if (at_ > rows_.size()) return false;
        record.line = at_ == 0 ? 1 : rows_[at_ - 1].line;
        if (at_ == 0)
            for (const auto& column : kind_.columns)
                record.fields.push_back(column.name);
        else
            record.fields.assign(rows_[at_ - 1].values->begin(), rows_[at_ - 1].values->end());
        ++at_;
        return true;
    }
    [[nodiscard]] std::size_t position() const override { return at_; }
    [[nodiscard]] std::size_t whole() const override { return rows_.size() + 1; }

  private:
    struct one {
        std::size_t line;
        const std::vector<std::string>* values;
    };
    const records::kind_info& kind_;
    std::vector<one> rows_;
    std::size_t at_ = 0;
};

/// "tickets.net (from Net weight)": a column as the map fills it.
std::string column_told(const sheet_map& map, records::kind which, const std::string& column) {
    const auto& kind = records::info(which);
    const auto place = kind.find(column);
    for (const auto& each : map.records) {
        const auto* found = each.which == which && place ? each.find(*place) : nullptr;
        if (found != nullptr && found->reads_a_heading())
            return fmt::format("{}.{} ({})", kind.file, column, found->source());
    }
    return fmt::format("{}.{}", kind.file, column);
}

std::size_t known_of(const mapped_sheet& sheet, records::kind which) {
    std::size_t count = 0;
    for (const auto& row : sheet.rows)
        count += static_cast<std::size_t>(std::count_if(
            row.made.begin(), row.made.end(), [&](const auto& each) { return each.which == which && each.known; }));
    return count;
}

void add_faults(std::vector<std::string>& to, const mapped_sheet& sheet,
                const std::vector<records::finding>& findings) {
    for (const auto& each : findings)
        to.push_back(each.text(sheet.shown));
}

} // namespace

mapped_intake take_mapped(ledger::ledger_file& to, const std::string& path, const sheet_map& map,
                          const ledger::surroundings& around, const intake_options& options) {
    table_file file{path};
    const auto sheet = read_map_sheet(file, map.sheet);
    session taking{to, around, !options.dry_run}; // before the map looks at the ledger: nobody writes in between
    mapped_intake made{apply_map(map, sheet, to), {}, {}};
    add_faults(made.faults, made.sheet, made.sheet.findings);
    if (!made.faults.empty()) return made;
    taking.begin({"intake --map " + map.name, {}, {}, file.name(), file.sha256()});
    std::set<records::kind> kinds;
    for (const auto& each : map.records)
        kinds.insert(each.which);
    for (const auto which : kinds) {
        std::vector<records::finding> findings;
        mapped_rows rows{made.sheet, which};
        auto& summary = made.files.emplace_back(file_summary{
            fmt::format("{}: {}", made.sheet.shown, records::info(which).file), records::info(which).file});
        taking.take_rows(which, rows, summary, findings, options);
        summary.known += known_of(made.sheet, which);
        for (auto& each : findings)
            each.column = column_told(map, which, each.column);
        add_faults(made.faults, made.sheet, findings);
    }
    if (!made.faults.empty()) return made;
    if (options.seen) options.seen(taking.season());
    if (!options.dry_run) taking.commit();
    return made;
}

} // namespace tarewell::intake
