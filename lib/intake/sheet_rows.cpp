#include "intake/sheet_rows.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <charconv>

namespace tarewell::intake {
namespace {

constexpr std::size_t most_rows = 1'048'576, most_columns = 16'384; // of a sheet
constexpr std::size_t most_fields = 1'000;
const char* const save_again = "open it in the spreadsheet program and save it again as .xlsx";

std::optional<std::size_t> number_of(std::string_view digits) {
    std::size_t value = 0;
    const auto [end, failure] = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (failure != std::errc{} || end != digits.data() + digits.size()) return std::nullopt;
    return value;
}

struct cell_place {
    std::size_t row = 0, column = 0; ///< row from 1, column from 0
};

/// "AB12"; none where it is no cell of a sheet.
std::optional<cell_place> place_of(std::string_view text) {
    cell_place made;
    std::size_t letters = 0;
    for (; letters < text.size() && text[letters] >= 'A' && text[letters] <= 'Z' && letters < 4; ++letters)
        made.column = made.column * 26 + static_cast<std::size_t>(text[letters] - 'A') + 1;
    const auto row = number_of(text.substr(letters));
    if (letters == 0 || !row || *row == 0 || *row > most_rows || made.column > most_columns) return std::nullopt;
    made.row = *row;
    --made.column;
    return made;
}

/// Letters that XML cannot hold are written _x000D_ (ECMA-376 part 1, 22.9.2.19).
std::string without_escapes(std::string text) {
    constexpr std::size_t length = 7;
    for (std::size_t at = text.find("_x"); at != std::string::npos; at = text.find("_x", at + 1)) {
        unsigned code = 0;
        const char* digits = text.data() + at + 2;
        if (at + length > text.size() || text[at + length - 1] != '_') continue;
        const auto [end, failure] = std::from_chars(digits, digits + 4, code, 16);
        if (failure != std::errc{} || end != digits + 4 || code > 0x7F || code == 0) continue;
        text.replace(at, length, 1, static_cast<char>(code));
    }
    return text;
}

} // namespace

void sheet_rows::met::at(const std::string& place) {
    constexpr std::size_t shown = 3;
    if (++count <= shown) first += (first.empty() ? "" : ", ") + place;
    if (count == shown + 1) first += ", ...";
}

sheet_rows::sheet_rows(std::unique_ptr<zip_parts::stream> part, const std::string& name, const workbook::tables& tables,
                       std::size_t header_row)
    : part_{std::move(part)}, tables_{tables}, xml_{*this, name}, header_row_{header_row} {}

std::string sheet_rows::cell(std::size_t line, std::size_t field) const {
    return column_letters(field) + std::to_string(line);
}

void sheet_rows::read_more() {
    std::array<char, 65'536> piece{};
    const auto some = part_->read(piece.data(), piece.size());
    done_ += some;
    at_end_ = some == 0;
    xml_.feed({piece.data(), some}, at_end_);
    if (at_end_ && !width_) throw unreadable("the sheet is empty", "its first row names the columns");
}

bool sheet_rows::next(csv_record& record, std::optional<csv_fault>& fault) {
    while (ready_.empty() && !at_end_)
        read_more();
    record.fields.clear();
    fault.reset();
    if (ready_.empty()) return false;
    current_ = std::move(ready_.front());
    ready_.pop_front();
    record.line = current_.line;
    for (const auto& each : current_.cells)
        record.fields.emplace_back(each);
    fault = current_.fault;
    return true;
}

void sheet_rows::begins(std::string_view element, const xml_attributes& with) {
    if (element == "row") return begin_row(with);
    if (element == "c") return begin_cell(with);
    if (element == "f") {
        formula_ = true;
    } else if (element == "v") {
        has_value_ = capturing_ = true;
    } else if (element == "t") {
        has_value_ = true;
        capturing_ = phonetic_ == 0;
    } else if (element == "rPh") {
        ++phonetic_;
    } else if (element == "mergeCell") {
        merged(with["ref"]);
    } else if (element == "col" && with["hidden"] == "1") {
        const auto first = number_of(with["min"]);
        if (first && *first > 0) hidden_columns_.at(column_letters(*first - 1));
    }
}

void sheet_rows::text(std::string_view some) {
    if (capturing_) value_ += some;
}

void sheet_rows::ends(std::string_view element) {
    if (element == "v" || element == "t")
        capturing_ = false;
    else if (element == "rPh")
        --phonetic_;
    else if (element == "c")
        end_cell();
    else if (element == "row")
        end_row();
}

void sheet_rows::begin_row(const xml_attributes& with) {
    row_ = {};
    row_.line = with["r"].empty() ? last_line_ + 1 : number_of(with["r"]).value_or(0);
    row_hidden_ = with["hidden"] == "1";
    column_ = 0;
    if (row_.line <= last_line_ || row_.line > most_rows)
        throw unreadable(fmt::format("the sheet is damaged: its row {} comes after row {}", with["r"], last_line_),
                         save_again);
}

void sheet_rows::begin_cell(const xml_attributes& with) {
    type_ = with["t"];
    value_.clear();
    formula_ = has_value_ = capturing_ = false;
    phonetic_ = 0;
    style_ = number_of(with["s"]).value_or(0);
    if (with["r"].empty()) return; // the next one
    const auto place = place_of(with["r"]);
    if (!place || place->row != row_.line || place->column < column_)
        throw unreadable(
            fmt::format("the sheet is damaged: its row {} holds a cell {} out of place", row_.line, with["r"]),
            save_again);
    column_ = place->column;
}

void sheet_rows::complain(std::string what, std::string right) {
    row_.blank = false;
    if (!row_.fault) row_.fault = csv_fault{row_.line, column_, std::move(what), std::move(right)};
}

void sheet_rows::keep(std::string value) {
    if (value.empty()) return;
    row_.blank = false;
    if (column_ >= width_.value_or(most_fields)) {
        complain(fmt::format("a value stands in column {}, right of the last that has a name", column_letters(column_)),
                 "name its column in the first row, or take it out");
        return;
    }
    if (row_.cells.size() <= column_) row_.cells.resize(column_ + 1);
    row_.cells[column_] = std::move(value);
}

void sheet_rows::keep_number() {
    if (value_.empty()) return;
    const auto format = style_ < tables_.formats.size() ? tables_.formats[style_] : number_format{};
    if (format.date || format.time) {
        bool hid_time = false;
        auto shown = shown_date(value_, format, tables_.epoch_1904, hid_time);
        if (!shown)
            return complain(fmt::format("holds {}, which is no date though it has a date's format", value_),
                            "write the date anew, such as 2026-05-14");
        if (hid_time) times_.at(cell(row_.line, column_));
        return keep(std::move(*shown));
    }
    auto shown = shown_number(value_, format.digits);
    if (!shown) return complain(fmt::format("holds '{}', which is no number", value_.substr(0, 40)), save_again);
    if (format.percent)
        return complain(fmt::format("shows a percent and holds {}", *shown),
                        "give the column the format General and write 20 for 20 %");
    constexpr std::size_t kept_digits = 15;
    if (shown->size() > kept_digits && shown->find_first_not_of("-0123456789") == std::string::npos)
        return complain(fmt::format("holds {}, and a spreadsheet keeps only 15 digits of a number", *shown),
                        "give the column the format Text and write the digits anew");
    keep(std::move(*shown));
}

void sheet_rows::keep_string() {
    const auto place = number_of(value_);
    if (!place || *place >= tables_.strings.size())
        throw unreadable(
            fmt::format("the sheet is damaged: cell {} names a text that is not there", cell(row_.line, column_)),
            save_again);
    keep(without_escapes(tables_.strings[*place]));
}

void sheet_rows::end_cell() {
    if (formula_ && !has_value_)
        complain("holds a formula that was never worked out",
                 "open and save it in a spreadsheet program, or write the value");
    else if (formula_)
        formulas_.at(cell(row_.line, column_));
    if (type_ == "e")
        complain(fmt::format("shows the error {}", value_), "mend the formula, or write the value");
    else if (type_ == "s")
        keep_string();
    else if (type_ == "b")
        keep(value_ == "1" ? "TRUE" : "FALSE");
    else if (type_ == "str" || type_ == "inlineStr")
        keep(without_escapes(value_));
    else if (type_ == "d")
        keep(value_.substr(0, value_.find("T00:00:00")));
    else
        keep_number();
    ++column_;
}

void sheet_rows::end_row() {
    if (row_.line < header_row_) {
        last_line_ = row_.line;
        return;
    }
    if (!width_) {
        if (row_.blank || row_.line != header_row_)
            throw unreadable(fmt::format("row {} is empty", header_row_), "that row names the columns");
        width_ = row_.cells.size();
    } else if (!row_.blank && row_.line > last_line_ + 1) {
        sheet_row gap;
        gap.line = last_line_ + 1;
        gap.cells.resize(1);
        ready_.push_back(std::move(gap));
    }
    last_line_ = row_.line;
    if (row_.blank) {
        row_.cells.assign(1, {});
    } else {
        if (row_hidden_) hidden_rows_.at(std::to_string(row_.line));
        row_.cells.resize(*width_);
    }
    ready_.push_back(std::move(row_));
    row_ = {};
}

void sheet_rows::merged(std::string_view range) {
    constexpr std::size_t enough = 20;
    if (++merges_ > enough) return;
    const auto place = place_of(range.substr(0, range.find(':'))).value_or(cell_place{1, 0});
    if (place.row < header_row_) return; // a title
    sheet_row fault;
    fault.line = place.row;
    fault.cells.resize(width_.value_or(1));
    fault.fault = csv_fault{place.row, place.column, fmt::format("cells {} are merged", range),
                            "unmerge them, and give each row its own values"};
    ready_.push_back(std::move(fault));
}

std::vector<std::string> sheet_rows::notes() const {
    std::vector<std::string> said;
    const auto say = [&](const met& what, const char* one, const char* many) {
        if (what.count > 0)
            said.push_back(fmt::format("{} ({})", fmt::format(fmt::runtime(what.count == 1 ? one : many), what.count),
                                       what.first));
    };
    say(formulas_, "{} cell holds a formula: the value it was saved with was taken",
        "{} cells hold formulas: the values they were saved with were taken");
    say(hidden_rows_, "{} row is hidden and was taken like the others",
        "{} rows are hidden and were taken like the others");
    say(hidden_columns_, "{} column or group of columns is hidden and was taken like the others",
        "{} columns are hidden and were taken like the others");
    say(times_, "{} date holds a time of day that its format hides: the day was taken",
        "{} dates hold a time of day that their format hides: the days were taken");
    return said;
}

} // namespace tarewell::intake
