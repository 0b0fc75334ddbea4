// Where labels stand on their sheet, and how large their names are written.
#include "records/errors.hpp"
#include "render/paper_writer.hpp"
#include "render/qr_code.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::render {
namespace {

using desk::value;

constexpr micrometres padding = 3000, most_code = 38'000, least_code = 18'000;
constexpr micrometres roomy_high = 42'000; ///< from here on a label has a line each for site and registration
constexpr double micrometres_a_point = 25400.0 / 72, line_high = 1.15;
constexpr std::size_t most_lines = 4;
constexpr std::array sizes{56, 44, 36, 30, 26, 22, 20, 18, 16, 14, 12, 11};

/// The code's side: the label's height, or three eighths of its width.
micrometres code_side(const label_stock& of) {
    return std::clamp(std::min(of.high - 2 * padding, of.wide * 3 / 8), least_code, most_code);
}

std::size_t letters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

/// How wide a text stands in bold letters, in hundredths of their size: a wide font's widths, so that no other is
/// wider.
std::size_t width_of(const std::string& text) {
    constexpr std::size_t capital = 80, digit = 70, small = 68, narrow = 42, broad = 105;
    std::size_t sum = 0;
    for (const char c : text) {
        if ((static_cast<unsigned char>(c) & 0xC0U) == 0x80U) continue; // of a letter that is counted
        if (std::string_view{"mwMW@%"}.find(c) != std::string_view::npos)
            sum += broad;
        else if (std::string_view{"ijlftI '.,:;!|()-"}.find(c) != std::string_view::npos)
            sum += narrow;
        else if (c >= '0' && c <= '9')
            sum += digit;
        else
            sum += c >= 'a' && c <= 'z' ? small : capital;
    }
    return sum;
}

/// Words as they are broken into lines; a word wider than a line is broken.
std::size_t lines_of(const std::vector<std::string>& words, std::size_t line) {
    std::size_t lines = 1, used = 0;
    for (const auto& word : words) {
        const auto wide = width_of(word);
        if (used > 0 && used + width_of(" ") + wide > line) ++lines, used = 0;
        lines += (wide - 1) / line;
        used += (wide - 1) % line + 1 + (used > 0 ? width_of(" ") : 0);
    }
    return lines;
}

/// "Thea", "Garrowby,", "2 of 5": the number stays together.
std::vector<std::string> words_of(const std::string& name, const std::string& number) {
    std::vector<std::string> words;
    for (const char c : name + (number.empty() ? "" : ",")) {
        if (words.empty() || c == ' ') words.emplace_back();
        if (c != ' ') words.back() += c;
    }
    std::erase(words, "");
    if (!number.empty()) words.push_back(number);
    return words;
}

/// A name cut by some letters, an ellipsis at its end.
std::string shorter(const std::string& name, std::size_t most) {
    std::string made;
    std::size_t count = 0;
    for (const char c : name) {
        if ((static_cast<unsigned char>(c) & 0xC0U) != 0x80U && ++count >= most) break;
        made += c;
    }
    return made + "\u2026";
}

struct name_written {
    std::string name;
    int points;
};
/// The name in the largest size that keeps it and the number within the room without breaking a word; one that is too
/// long for the smallest size is shortened, never the number.
name_written written_in(std::string name, const std::string& number, micrometres wide, micrometres high) {
    const auto fits = [&](int size) {
        const auto point = size * micrometres_a_point;
        const auto line = static_cast<std::size_t>(100 * static_cast<double>(wide) / point);
        const auto lines = static_cast<std::size_t>(static_cast<double>(high) / (point * line_high));
        const auto words = words_of(name, number);
        const bool breaks =
            std::any_of(words.begin(), words.end(), [&](const auto& each) { return width_of(each) > line; });
        return (!breaks || size == sizes.back()) && lines_of(words, line) <= std::min(lines, most_lines);
    };
    for (const int size : sizes)
        if (fits(size)) return {name, size};
    for (auto count = letters(name); count > 2 && !fits(sizes.back()); --count)
        name = shorter(name, count);
    return {name, sizes.back()};
}

std::string text_of(const value& row, const char* name) {
    const auto* of = row.find(name);
    return of != nullptr && of->text() != nullptr ? *of->text() : std::string{};
}

value on_stock(value row, const label_stock& of, std::size_t place) {
    const auto corner = of.corner_of(place);
    const auto side = code_side(of);
    const bool roomy = of.high >= roomy_high;
    const auto below = static_cast<micrometres>((roomy ? 75 : 32) * micrometres_a_point); // the lines under the name
    const bool is_label = row.find("name") != nullptr;
    const auto number = is_label ? fmt::format("{} of {}", text_of(row, "number"), text_of(row, "of")) : std::string{};
    auto said = written_in(text_of(row, is_label ? "name" : "id"), number, of.wide - 3 * padding - side,
                           of.high - 2 * padding - below);
    if (is_label) row["name"] = std::move(said.name);
    row["left"] = in_millimetres(corner.left);
    row["top"] = in_millimetres(corner.top);
    row["wide"] = in_millimetres(of.wide);
    row["high"] = in_millimetres(of.high);
    row["code"] = in_millimetres(side);
    row["points"] = fmt::format("{}pt", said.points);
    row["roomy"] = roomy;
    row["qr"] = qr_code(text_of(row, "id"));
    return row;
}

} // namespace

value labels_on_sheets(const desk::paper& what, const paper_look& how) {
    const auto on_a_sheet = how.stock.on_a_sheet();
    if (how.first_label < 1 || how.first_label > on_a_sheet)
        throw records::input_error(fmt::format("--start {}: a sheet of {} has {} labels, from 1 to {}", how.first_label,
                                               how.stock.in_words, on_a_sheet, on_a_sheet));
    auto sheets = value::array(), labels = value::array();
    std::size_t place = how.first_label - 1;
    const auto put_sheet = [&] {
        sheets.push_back({{"labels", std::move(labels)}, {"stock", how.stock.in_words}});
        labels = value::array();
        place = 0;
    };
    for (const auto& page : what.pages)
        for (const auto& row : *page.find("rows")->list()) {
            labels.push_back(on_stock(row, how.stock, place));
            if (++place == on_a_sheet) put_sheet();
        }
    if (!labels.empty()) put_sheet();
    return sheets;
}

} // namespace tarewell::render
