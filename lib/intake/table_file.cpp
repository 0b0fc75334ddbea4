#include "intake/table_file.hpp"

#include "intake/workbook.hpp"
#include "ledger/sha256.hpp"
#include "records/errors.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <cerrno>
#include <cstring>
#include <filesystem>
#include <fstream>

namespace tarewell::intake {
namespace {

std::string bytes_of(const std::string& path) {
    if (std::filesystem::is_directory(path)) throw records::io_error(path + " is a folder; name a file");
    std::ifstream file{path, std::ios::binary | std::ios::ate};
    if (!file) throw records::io_error(fmt::format("{} cannot be read: {}", path, std::strerror(errno)));
    std::string text(static_cast<std::size_t>(file.tellg()), '\0');
    file.seekg(0);
    if (!text.empty() && !file.read(text.data(), static_cast<std::streamsize>(text.size())))
        throw records::io_error(fmt::format("{} could not be read to its end", path));
    return text;
}

bool is_called(std::string_view name, const records::kind_info& kind) {
    return records::same_but_for_case(name, kind.file) || records::same_but_for_case(name, kind.name);
}

std::optional<records::kind> kind_called(std::string_view name) {
    for (const auto& kind : records::recorded_kinds())
        if (is_called(name, kind)) return kind.which;
    return std::nullopt;
}

/// The kind by a table's own header; none where it has none that can be read.
std::optional<records::kind> kind_by_header(table_file& file, const std::string& sheet) {
    try {
        const auto rows = file.rows(sheet);
        csv_record record;
        std::optional<csv_fault> fault;
        if (!rows->next(record, fault) || fault) return std::nullopt;
        return kind_of_header(record.fields);
    } catch (const unreadable&) {
        return std::nullopt;
    }
}

std::string sheets_listed(const workbook& book) {
    std::vector<std::string> names;
    for (const auto& each : book.sheets())
        names.push_back("'" + each.name + "'");
    return fmt::format("{}", fmt::join(names, ", "));
}

/// The sheet's name as the workbook writes it.
std::string sheet_named(const workbook& book, const std::string& name) {
    for (const auto& each : book.sheets())
        if (records::same_but_for_case(each.name, name)) return each.name;
    throw unreadable(fmt::format("the workbook has no sheet '{}'", name), "its sheets are " + sheets_listed(book));
}

} // namespace

table_file::table_file(std::string path)
    : path_{std::move(path)}, bytes_{std::make_unique<std::string>(bytes_of(path_))} {}
table_file::~table_file() = default;
table_file::table_file(table_file&&) noexcept = default;
table_file& table_file::operator=(table_file&&) noexcept = default;

std::string table_file::name() const { return std::filesystem::path{path_}.filename().string(); }

std::string table_file::sha256() const {
    ledger::sha256 hasher;
    return ledger::hex(hasher.of(*bytes_));
}

bool table_file::is_workbook() const { return is_workbook_name(path_); }

const workbook& table_file::book() {
    if (!book_) book_ = std::make_unique<workbook>(*bytes_);
    return *book_;
}

std::string table_file::shown(const std::string& sheet) const { return sheet.empty() ? path_ : path_ + "!" + sheet; }

std::unique_ptr<row_reader> table_file::rows(const std::string& sheet, std::size_t header_row) {
    if (!is_workbook()) {
        if (!sheet.empty()) throw unreadable("a CSV file has no sheets", "leave --sheet out");
        if (const auto fault = fault_of_file(*bytes_)) throw unreadable(fault->what, fault->right);
        return std::make_unique<csv_rows>(*bytes_);
    }
    const auto& sheets = book().sheets();
    const auto found = std::find_if(sheets.begin(), sheets.end(), [&](const auto& each) { return each.name == sheet; });
    if (found == sheets.end())
        throw unreadable(fmt::format("the workbook has no sheet '{}'", sheet), "name one of its sheets");
    return book().rows(*found, header_row);
}

std::optional<records::kind> kind_of_header(const std::vector<std::string_view>& names) {
    std::optional<records::kind> found;
    for (const auto& kind : records::recorded_kinds()) {
        std::vector<bool> seen(kind.columns.size());
        bool all = true;
        for (const auto name : names) {
            const auto place = kind.find_in_header(name);
            all = all && place;
            if (place) seen[*place] = true;
        }
        for (std::size_t i = 0; i < seen.size(); ++i)
            all = all && (seen[i] || !kind.columns[i].required);
        if (!all) continue;
        if (found) return std::nullopt;
        found = kind.which;
    }
    return found;
}

chosen_table table_of_kind(table_file& file, records::kind which, const std::string& sheet) {
    if (!file.is_workbook()) return {which, sheet};
    const auto& book = file.book();
    if (!sheet.empty()) return {which, sheet_named(book, sheet)};
    std::vector<std::string> named, headed;
    for (const auto& each : book.sheets()) {
        if (is_called(each.name, records::info(which))) named.push_back(each.name);
        if (kind_by_header(file, each.name) == which) headed.push_back(each.name);
    }
    if (named.size() == 1) return {which, named.front()};
    if (headed.size() == 1) return {which, headed.front()};
    if (book.sheets().size() == 1) return {which, book.sheets().front().name};
    throw unreadable(fmt::format("{} of the workbook's sheets {} the columns of {}",
                                 headed.empty() ? "none" : "several", headed.empty() ? "has" : "have",
                                 records::info(which).file),
                     "name one with --sheet: " + sheets_listed(book));
}

std::vector<chosen_table> tables_of(table_file& file, const std::string& sheet, std::vector<std::string>& passed_over) {
    std::vector<chosen_table> chosen;
    if (!file.is_workbook()) {
        auto which = kind_called(std::filesystem::path{file.path()}.stem().string());
        if (!which) which = kind_by_header(file, sheet);
        if (which) chosen.push_back({*which, sheet});
    } else {
        const auto only = sheet.empty() ? std::string{} : sheet_named(file.book(), sheet);
        for (const auto& each : file.book().sheets()) {
            if (!only.empty() && each.name != only) continue;
            auto which = kind_called(each.name);
            if (!which) which = kind_by_header(file, each.name);
            if (which)
                chosen.push_back({*which, each.name});
            else
                passed_over.push_back(each.name);
        }
    }
    if (chosen.empty())
        throw unreadable("its headings are those of no kind of record",
                         "say what it holds (tarewell intake tickets FILE), or make a map of its layout once "
                         "(tarewell intake map NAME --from FILE)");
    std::stable_sort(chosen.begin(), chosen.end(), [](const auto& a, const auto& b) { return a.which < b.which; });
    return chosen;
}

} // namespace tarewell::intake
