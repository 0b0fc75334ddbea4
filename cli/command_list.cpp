#include "context.hpp"
#include "intake/csv.hpp"
#include "text_table.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    std::string kind;
    std::optional<ledger::entry_no> as_of;
    bool json = false, csv = false;
};

void print_csv(const ledger::kind_info& kind, const ledger::ledger_file& file, ledger::entry_no seq,
               std::ostream& out) {
    std::string line;
    for (const auto& column : kind.columns)
        line += (line.empty() ? "" : ",") + std::string{column.name};
    out << line << '\n';
    file.for_each(kind.which, seq, [&](const ledger::stored_row& stored) {
        std::string row;
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const bool words =
                kind.columns[i].type == ledger::column_type::text || kind.columns[i].type == ledger::column_type::id;
            if (i > 0) row += ',';
            row += words ? intake::csv_field(stored.values[i]) : intake::csv_number(stored.values[i]);
        }
        out << row << '\n';
    });
}

void print_json(const ledger::kind_info& kind, const ledger::ledger_file& file, ledger::entry_no seq,
                std::ostream& out) {
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    file.for_each(kind.which, seq, [&](const ledger::stored_row& stored) {
        nlohmann::ordered_json row{{"seq", stored.entry}};
        for (std::size_t i = 0; i < kind.columns.size(); ++i) {
            const std::string name{kind.columns[i].name};
            if (stored.values[i].empty())
                row[name] = nullptr;
            else
                row[name] = stored.values[i];
        }
        list.push_back(std::move(row));
    });
    out << list.dump(2) << '\n';
}

void run_list(const options& how, context& with) {
    const auto& kind = *ledger::find_kind(how.kind);
    const auto file = with.open();
    const auto seq = how.as_of ? file.head_at(*how.as_of).seq : file.head().seq;
    if (how.csv) return print_csv(kind, file, seq, with.out);
    if (how.json) return print_json(kind, file, seq, with.out);
    std::vector<std::string> headings{"seq"};
    for (const auto& column : kind.columns)
        headings.emplace_back(column.name);
    text_table table{headings};
    file.for_each(kind.which, seq, [&](const ledger::stored_row& stored) {
        std::vector<std::string> cells{fmt::format("{}", stored.entry)};
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            cells.emplace_back(stored.values[i]);
        table.add(std::move(cells));
    });
    table.print(with.out);
}

} // namespace

void add_list(const command& program, context& with) {
    auto sub = program.add("list", "the records of a kind in force");
    auto& how = program.keep<options>();
    std::vector<std::string> kinds;
    for (const auto& kind : ledger::all_kinds())
        kinds.emplace_back(kind.file);
    sub.value("KIND", how.kind, "such as tickets").required().one_of(kinds);
    sub.value("--as-of", how.as_of, "as the ledger stood after this entry");
    sub.flag("--csv", how.csv, "as CSV; texts that a spreadsheet would take for a formula get an apostrophe");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_list(how, with); });
}

} // namespace tarewell::cli
