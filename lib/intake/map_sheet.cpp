#include "intake/map_sheet.hpp"

#include "intake/workbook.hpp"
#include "quantity/clean_text.hpp"
#include "records/errors.hpp"
#include "records/letters.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>

namespace tarewell::intake {
namespace {

constexpr std::size_t most_rows = 100'000; // they stand in memory; a form has some hundreds

/// Windows-1252 from 0x80 to 0x9F; 0 where it has no letter (Unicode's CP1252.TXT, R2: from memory of the table).
constexpr std::array<std::uint32_t, 32> windows_letters = {
    0x20AC, 0,      0x201A, 0x0192, 0x201E, 0x2026, 0x2020, 0x2021, 0x02C6, 0x2030, 0x0160,
    0x2039, 0x0152, 0,      0x017D, 0,      0,      0x2018, 0x2019, 0x201C, 0x201D, 0x2022,
    0x2013, 0x2014, 0x02DC, 0x2122, 0x0161, 0x203A, 0x0153, 0,      0x017E, 0x0178};

void add_letter(std::string& to, std::uint32_t point) {
    const auto byte = [&](std::uint32_t bits) { to += static_cast<char>(bits); };
    if (point < 0x80) {
        byte(point);
    } else if (point < 0x800) {
        byte(0xC0U | point >> 6U);
        byte(0x80U | (point & 0x3FU));
    } else if (point < 0x10000) {
        byte(0xE0U | point >> 12U);
        byte(0x80U | (point >> 6U & 0x3FU));
        byte(0x80U | (point & 0x3FU));
    } else {
        byte(0xF0U | point >> 18U);
        byte(0x80U | (point >> 12U & 0x3FU));
        byte(0x80U | (point >> 6U & 0x3FU));
        byte(0x80U | (point & 0x3FU));
    }
}

std::string from_windows(std::string_view bytes) {
    std::string made;
    for (const char c : bytes) {
        const auto byte = static_cast<unsigned char>(c);
        const std::uint32_t point = byte >= 0x80 && byte < 0xA0 ? windows_letters[byte - 0x80U] : byte;
        if (point == 0 && byte != 0)
            throw unreadable(fmt::format("the byte 0x{:02X} is no letter of CP1252", byte),
                             "let the map name another encoding");
        add_letter(made, point);
    }
    return made;
}

std::string from_utf16(std::string_view bytes) {
    const bool big = bytes.starts_with("\xFE\xFF");
    if (big || bytes.starts_with("\xFF\xFE")) bytes.remove_prefix(2);
    if (bytes.size() % 2 != 0) throw unreadable("the file ends in half a letter of UTF-16", "save it again");
    const auto unit = [&](std::size_t at) {
        const auto first = static_cast<unsigned char>(bytes[at]), second = static_cast<unsigned char>(bytes[at + 1]);
        return static_cast<std::uint32_t>(big ? first << 8U | second : second << 8U | first);
    };
    std::string made;
    for (std::size_t at = 0; at < bytes.size(); at += 2) {
        auto point = unit(at);
        if (point >= 0xD800 && point < 0xE000) {
            const auto low = at + 3 < bytes.size() ? unit(at + 2) : 0U;
            if (point >= 0xDC00 || low < 0xDC00 || low >= 0xE000)
                throw unreadable("the file is not valid UTF-16", "let the map name another encoding");
            point = 0x10000 + ((point - 0xD800) << 10U) + (low - 0xDC00);
            at += 2;
        }
        add_letter(made, point);
    }
    return made;
}

/// Old line ends of CR alone become LF.
void mend_line_ends(std::string& text) {
    if (text.find('\n') == std::string::npos) std::replace(text.begin(), text.end(), '\r', '\n');
}

bool is_blank(const std::vector<std::string>& cells) {
    return std::all_of(cells.begin(), cells.end(), [](const std::string& each) { return trimmed(each).empty(); });
}

/// A text file's rows: the text belongs to the reader.
class decoded_rows final : public row_reader {
  public:
    decoded_rows(std::string text, char separator) : text_{std::move(text)}, reader_{text_, separator} {}
    bool next(csv_record& record, std::optional<csv_fault>& fault) override { return reader_.next(record, fault); }
    [[nodiscard]] std::size_t position() const override { return reader_.position(); }
    [[nodiscard]] std::size_t whole() const override { return text_.size(); }

  private:
    std::string text_;
    csv_reader reader_;
};

std::unique_ptr<row_reader> rows_of(table_file& file, const sheet_rules& rules, std::string& sheet) {
    if (file.is_workbook()) {
        const auto& sheets = file.book().sheets();
        const auto& wanted = rules["sheet"];
        if (wanted.empty() && sheets.size() > 1)
            throw unreadable("the workbook has several sheets",
                             "let the map name one: --set 'sheet=" + sheets.front().name + "'");
        sheet = wanted.empty() ? sheets.front().name : wanted;
        const auto& header_row = rules["header_row"];
        return file.rows(sheet, header_row.empty() ? 1 : std::stoul(header_row));
    }
    auto text = as_utf8(file.bytes(), rules["encoding"]);
    mend_line_ends(text);
    if (text.starts_with("PK\x03\x04") || text.starts_with("\xD0\xCF\x11\xE0"))
        throw unreadable("the file is a spreadsheet, not a text file", "name it .xlsx, or save it as CSV");
    const char separator = rules.says("separator", "semicolon") ? ';' : rules.says("separator", "tab") ? '\t' : ',';
    return std::make_unique<decoded_rows>(std::move(text), separator);
}

/// The rows' way into the sheet: which are left out, and what is wrong with the others.
class sheet_maker {
  public:
    sheet_maker(map_sheet& to, const sheet_rules& rules) : to_{to}, rules_{rules} {
        if (const auto& row = rules["header_row"]; !row.empty()) header_row_ = std::stoul(row);
    }

    void add(const csv_record& record, const std::optional<csv_fault>& fault) {
        if (record.line < header_row_) return;
        if (fault) return find(fault->line, fault->field, fault->what, fault->right);
        std::vector<std::string> cells{record.fields.begin(), record.fields.end()};
        if (to_.headings.empty()) return add_headings(record.line, std::move(cells));
        if (is_blank(cells)) {
            blanks_.push_back(record.line);
            return;
        }
        for (const auto line : blanks_)
            leave_out_blank(line);
        blanks_.clear();
        add_row(record.line, std::move(cells));
    }

  private:
    void find(std::size_t line, std::size_t field, std::string what, std::string right) {
        to_.findings.push_back(
            {line, field < to_.headings.size() ? to_.headings[field] : "(row)", std::move(what), std::move(right)});
    }
    void add_headings(std::size_t line, std::vector<std::string> cells) {
        while (!cells.empty() && trimmed(cells.back()).empty())
            cells.pop_back();
        for (std::size_t i = 0; i < cells.size(); ++i) {
            auto& each = cells[i];
            each = std::string{trimmed(each)};
            std::replace(each.begin(), each.end(), '\n', ' ');
            const bool twice =
                std::any_of(cells.begin(), cells.begin() + static_cast<std::ptrdiff_t>(i),
                            [&](const std::string& other) { return same_words(other) == same_words(each); });
            if (!each.empty() && twice)
                to_.findings.push_back(
                    {line, each, "stands twice among the headings", "give each column a heading of its own"});
        }
        to_.headings = std::move(cells);
        if (to_.headings.empty())
            throw unreadable(fmt::format("row {} holds no headings", line),
                             "let the map say where they are: --set header_row=3");
    }
    void leave_out_blank(std::size_t line) {
        if (rules_.says("blank_rows", "skip"))
            to_.left_out.push_back(line);
        else
            find(line, 0, "the row is empty", "take it out, or let the map pass it over: --set blank_rows=skip");
    }
    void add_row(std::size_t line, std::vector<std::string> cells) {
        if (to_.rows.size() == most_rows)
            throw unreadable(fmt::format("the sheet has more than {} rows", most_rows), "split it");
        const auto first =
            std::find_if(cells.begin(), cells.end(), [](const auto& each) { return !trimmed(each).empty(); });
        const auto begins = records::small_letters(std::string{trimmed(*first)});
        const auto& totals = rules_["totals"];
        if (!totals.empty() && begins.starts_with(records::small_letters(totals))) {
            to_.left_out.push_back(line);
            return;
        }
        if (totals.empty() &&
            (begins.starts_with("total") || begins.starts_with("sum") || begins.starts_with("grand total")))
            return find(line, 0, fmt::format("'{}' begins what looks like a row of totals", *first),
                        "take it out, or let the map pass such rows over: --set totals=Total");
        for (std::size_t i = to_.headings.size(); i < cells.size(); ++i)
            if (!trimmed(cells[i]).empty())
                return find(line, i, fmt::format("'{}' stands right of the last heading", cells[i]),
                            "give its column a heading, or put a value that holds a separator in double quotes");
        cells.resize(to_.headings.size());
        to_.rows.push_back({line, std::move(cells)});
    }

    map_sheet& to_;
    const sheet_rules& rules_;
    std::size_t header_row_ = 1;
    std::vector<std::size_t> blanks_;
};

} // namespace

std::string same_words(std::string_view text) {
    std::string made;
    for (const char c : records::folded(trimmed(text))) {
        const bool space = c == ' ' || c == '\t' || c == '\n';
        if (!space) made += c;
        if (space && !made.ends_with(' ')) made += ' ';
    }
    return made;
}

std::optional<std::size_t> map_sheet::heading(std::string_view text) const {
    const auto wanted = same_words(text);
    for (std::size_t i = 0; i < headings.size(); ++i)
        if (same_words(headings[i]) == wanted) return i;
    return std::nullopt;
}

std::string as_utf8(std::string_view bytes, std::string_view encoding) {
    if (encoding == "cp1252") return from_windows(bytes);
    if (encoding == "utf-16") return from_utf16(bytes);
    if (bytes.starts_with("\xFF\xFE") || bytes.starts_with("\xFE\xFF"))
        throw unreadable("the file is UTF-16", "let the map say so: --set encoding=utf-16");
    if (const auto bad = quantity::first_bad_byte(bytes); bad != std::string_view::npos)
        throw unreadable(fmt::format("the file is not UTF-8 (byte 0x{:02X})", static_cast<unsigned char>(bytes[bad])),
                         "let the map name its encoding, often --set encoding=cp1252");
    return std::string{bytes};
}

map_sheet read_map_sheet(table_file& file, const sheet_rules& rules) {
    map_sheet made;
    std::string sheet;
    try {
        const auto rows = rows_of(file, rules, sheet);
        made.shown = file.shown(sheet);
        sheet_maker maker{made, rules};
        csv_record record;
        std::optional<csv_fault> fault;
        while (rows->next(record, fault))
            maker.add(record, fault);
        made.notes = rows->notes();
        if (made.headings.empty()) throw unreadable("the file has no headings", "its first row names the columns");
    } catch (const unreadable& wrong) {
        throw records::refused({fmt::format("{}: {}; {}", file.shown(sheet), wrong.what(), wrong.right)});
    }
    return made;
}

} // namespace tarewell::intake
