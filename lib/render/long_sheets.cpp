#include "render/long_sheets.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

/// "bundles_share" on the first sheet, "bundles_share_sheet_2" on the second.
std::string name_on(const std::string& name, std::size_t sheet) {
    return sheet == 1 ? name : fmt::format("{}_sheet_{}", name, sheet);
}

std::string sheet_name(const std::string& name, std::size_t sheet) {
    constexpr std::size_t longest = 31; // of a sheet's name
    const auto number = fmt::format(" ({})", sheet);
    return name.substr(0, longest - number.size()) + number;
}

bool is_letter(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_';
}

/// Calls `name` for each word outside of quoted texts, and puts what it gives in its place.
template <class Name> std::string with_words(const std::string& text, Name&& name) {
    std::string made, word;
    bool quoted = false;
    for (const char c : text + '\n') {
        if (!quoted && is_letter(c)) {
            word += c;
            continue;
        }
        made += word.empty() ? word : name(word);
        word.clear();
        if (c == '"') quoted = !quoted;
        made += c;
    }
    made.pop_back();
    return made;
}

/// Where the call that opens at `from` ends: past its closing parenthesis.
std::size_t end_of_call(const std::string& text, std::size_t from) {
    std::size_t depth = 0;
    bool quoted = false;
    for (auto at = from; at < text.size(); ++at) {
        if (text[at] == '"') quoted = !quoted;
        if (quoted) continue;
        if (text[at] == '(') ++depth;
        if (text[at] == ')' && --depth == 0) return at + 1;
    }
    return text.size();
}

std::string call_across(const std::string& call, const std::map<std::string, std::size_t>& sheets) {
    std::size_t parts = 1;
    with_words(call, [&](const std::string& word) {
        const auto found = sheets.find(word);
        if (found != sheets.end()) parts = std::max(parts, found->second);
        return word;
    });
    if (parts == 1) return call;
    std::string made = "(";
    for (std::size_t sheet = 1; sheet <= parts; ++sheet)
        made += (sheet == 1 ? "" : "+") + with_words(call, [&](const std::string& word) {
                    return sheets.contains(word) ? name_on(word, sheet) : word;
                });
    return made + ")";
}

sheet_data part_of(const sheet_data& whole, std::size_t number, std::size_t most_rows) {
    sheet_data part;
    const auto from = (number - 1) * most_rows, to = std::min(from + most_rows, whole.rows.size());
    part.name = number == 1 ? whole.name : sheet_name(whole.name, number);
    part.kind = whole.kind;
    part.title = whole.title;
    if (number == 1) part.lines = whole.lines, part.charts = whole.charts;
    part.source = whole.source;
    part.columns = whole.columns;
    for (auto& column : part.columns)
        if (!column.range_name.empty()) column.range_name = name_on(column.range_name, number);
    part.rows.assign(whole.rows.begin() + static_cast<std::ptrdiff_t>(from),
                     whole.rows.begin() + static_cast<std::ptrdiff_t>(to));
    for (auto at = whole.special.lower_bound({from, 0}); at != whole.special.end() && at->first.first < to; ++at)
        part.special[{at->first.first - from, at->first.second}] = at->second;
    part.total_label = whole.total_label;
    return part;
}

std::vector<sheet_data> parts_of(sheet_data whole, std::size_t most_rows) {
    const auto count = (whole.rows.size() + most_rows - 1) / most_rows;
    std::vector<sheet_data> parts;
    for (std::size_t number = 1; number <= count; ++number)
        parts.push_back(part_of(whole, number, most_rows));
    auto& last = parts.back();
    for (const auto& each : parts)
        last.together.push_back({each.name, each.header_row(), each.rows.size()});
    last.rows_together = std::move(whole.rows);
    last.special_totals = std::move(whole.special_totals);
    last.quarter_total = std::move(whole.quarter_total);
    if (!whole.total_label.empty())
        for (auto& each : parts)
            each.total_label = "Total of this sheet";
    return parts;
}

} // namespace

std::string across_sheets(const std::string& formula, const std::map<std::string, std::size_t>& sheets) {
    std::string made;
    for (std::size_t at = 0; at < formula.size();) {
        if (formula[at] == '"') {
            const auto end = std::min(formula.find('"', at + 1), formula.size() - 1) + 1;
            made += formula.substr(at, end - at);
            at = end;
            continue;
        }
        auto word = at;
        while (word < formula.size() && is_letter(formula[word]))
            ++word;
        const auto name = formula.substr(at, word - at);
        if (word < formula.size() && formula[word] == '(' &&
            (name == "COUNTIFS" || name == "SUMIFS" || name == "SUM")) {
            const auto end = end_of_call(formula, word);
            made += call_across(formula.substr(at, end - at), sheets);
            at = end;
        } else if (!name.empty()) {
            made += name;
            at = word;
        } else {
            made += formula[at++];
        }
    }
    return made;
}

void split_long_sheets(filled_workbook& of, std::size_t most_rows) {
    std::map<std::string, std::size_t> sheets;
    std::vector<sheet_data> made;
    std::vector<std::size_t> moved_to;
    for (auto& sheet : of.sheets) {
        moved_to.push_back(made.size());
        const bool splits = sheet.kind == sheet_kind::table || sheet.kind == sheet_kind::flags;
        if (!splits || sheet.rows.size() <= most_rows) {
            made.push_back(std::move(sheet));
            continue;
        }
        const auto names = sheet.columns;
        auto parts = parts_of(std::move(sheet), most_rows);
        for (const auto& column : names)
            if (!column.range_name.empty()) sheets[column.range_name] = parts.size();
        std::move(parts.begin(), parts.end(), std::back_inserter(made));
    }
    for (auto& sheet : made) {
        for (auto& chart : sheet.charts) {
            chart.sheet = moved_to[chart.sheet];
            chart.row_count = std::min(chart.row_count, made[chart.sheet].rows.size() - chart.first_row);
        }
        for (auto& [where, cell] : sheet.special)
            cell.formula = across_sheets(cell.formula, sheets);
        for (auto& [column, cell] : sheet.special_totals)
            cell.formula = across_sheets(cell.formula, sheets);
    }
    of.sheets = std::move(made);
}

} // namespace tarewell::render
