#include "desk/paper.hpp"
#include "entering.hpp"
#include "intake/csv.hpp"
#include "names.hpp"
#include "render/forms.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::cli {
namespace {

/// What people enter, by the name of its file; hours are in-kind contributions of that kind.
const records::kind_info* kind_entered(const std::string& name, desk::typed_values& fixed) {
    if (name == "hours") {
        fixed["kind"] = "hours";
        return &records::info(records::kind::inkind);
    }
    for (const auto& each : records::recorded_kinds())
        if (name == each.file || name == each.name) return &each;
    return nullptr;
}

std::vector<std::string> kinds_entered() {
    std::vector<std::string> names{"hours"};
    for (const auto& each : records::recorded_kinds())
        names.emplace_back(each.file);
    std::sort(names.begin(), names.end());
    return names;
}

/// What a sheet's CSV says of the kind's columns, row by row.
std::vector<desk::typed_values> rows_of_csv(const std::string& path, const records::kind_info& kind) {
    const auto text = render::form_in_file(path).text;
    intake::csv_reader reader{text};
    intake::csv_record record;
    std::optional<intake::csv_fault> fault;
    std::vector<std::string> header;
    std::vector<desk::typed_values> rows;
    while (reader.next(record, fault)) {
        if (fault)
            throw records::input_error(fmt::format("{}:{}: {}; {}", path, fault->line, fault->what, fault->right));
        if (header.empty()) {
            header.assign(record.fields.begin(), record.fields.end());
            continue;
        }
        auto& row = rows.emplace_back();
        for (std::size_t i = 0; i < std::min(header.size(), record.fields.size()); ++i)
            for (const auto& column : kind.columns)
                if (column.name == header[i] && !record.fields[i].empty()) row[header[i]] = record.fields[i];
        if (row.empty()) rows.pop_back();
    }
    if (rows.empty())
        throw records::input_error(fmt::format("{} has nothing for {}; its first row names their columns, such as {}",
                                               path, kind.file, kind.columns[kind.key[kind.key_columns - 1]].name));
    return rows;
}

/// The rows of a printed sheet: a file, or those that the ledger prints for a site, or for all.
std::vector<desk::typed_values> sheet_rows(const std::string& sheet, const records::kind_info& kind,
                                           ledger::ledger_file& file, const context& with) {
    if (sheet.empty()) return {};
    if (sheet.ends_with(".csv")) return rows_of_csv(sheet, kind);
    desk::paper_wanted wanted;
    wanted.on = quantity::read_day(with.around.now().substr(0, 10)).value();
    if (sheet != "all") wanted.site = id_meant(file, records::kind::site, sheet, with);
    auto rows = desk::rows_to_enter(desk::season_view{with.open()}, kind.which, wanted);
    if (rows.empty())
        throw records::input_error(
            fmt::format("there is no sheet of {} for {} with anything on it; receipts and hauls have one for a site, "
                        "tickets for a site or for all, and FILE.csv is a sheet of any kind",
                        kind.file, sheet));
    return rows;
}

} // namespace

void add_enter(const command& program, context& with) {
    auto sub =
        program.add("enter", "enter records one after the other, field by field, at a terminal: tickets, receipts, "
                             "bales, costs, hours, ...");
    struct how {
        std::string kind, sheet;
        bool all = false;
    };
    auto& what = sub.keep<how>();
    sub.value("KIND", what.kind, "what to enter").required().one_of(kinds_entered());
    sub.value("--sheet", what.sheet,
              "take a printed sheet in its order: a site's for receipts and hauls, a site's or `all` for tickets, or "
              "FILE.csv as `tarewell print` writes it");
    sub.flag("--all", what.all, "ask for every field, also those that your records never give");
    sub.does([&what, &with] {
        if (!with.read_line)
            throw records::input_error("enter asks a person at a terminal; from a pipe or a file use `tarewell record` "
                                       "or `tarewell intake`");
        desk::typed_values fixed;
        const auto& kind = *kind_entered(what.kind, fixed);
        auto file = with.open();
        auto rows = sheet_rows(what.sheet, kind, file, with);
        entering{with, file, kind.which, std::move(fixed), what.all, std::move(rows)}.run();
    });
}

} // namespace tarewell::cli
