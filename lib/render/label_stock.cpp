#include "render/label_stock.hpp"

#include "quantity/decimal.hpp"
#include "records/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <optional>
#include <tuple>
#include <utility>
#include <vector>

namespace tarewell::render {
namespace {

constexpr micrometres inch = 25400, millimetre = 1000;
constexpr micrometres least_wide = 48 * millimetre, least_high = 24 * millimetre; // what a label says in 11 point
constexpr micrometres most = 500 * millimetre;
constexpr std::size_t most_labels = 400;

constexpr paper_size papers[] = {
    {"letter", "letter", "Letter", 215'900, 279'400},
    {"a4", "A4", "A4", 210'000, 297'000},
};

constexpr const char* example = "4x2in 2x5 margins 0.156x0.5 gaps 0.188x0";

/// What common sheets of labels of a width leave between columns, and above and below at least (common practice, no
/// source).
struct usual_sheet {
    micrometres wide, gap, margin;
};
constexpr usual_sheet usual_sheets[] = {{4 * inch, inch * 3 / 16, inch / 2},
                                        {inch * 21 / 8, inch / 8, inch / 2},
                                        {99'100, 2'500, 12'000},
                                        {63'500, 2'500, 12'000}};

using pair = std::pair<micrometres, micrometres>;

struct measure {
    micrometres unit = inch;
    std::string_view name = "in";
};

records::input_error not_read(std::string_view text, std::string_view part) {
    return records::input_error(fmt::format("label stock '{}': '{}' is not understood; write width x height and, where "
                                            "you need them, columns x rows, margins and gaps, such as '{}'",
                                            text, part, example));
}

std::optional<micrometres> length(std::string_view text, micrometres unit) {
    const auto [value, fault] = quantity::read_decimal(text);
    if (fault != quantity::decimal_fault::none) return std::nullopt;
    const auto scaled = quantity::wide{value.mantissa} * unit;
    const auto parts = quantity::power_of_ten(value.scale);
    if (scaled > parts * most) return std::nullopt;
    return quantity::half_up(scaled, parts);
}

/// "4x2in": two lengths; the unit where it is written, else `unit`.
std::optional<pair> lengths(std::string_view text, measure& unit) {
    for (const measure each : {measure{inch, "in"}, measure{millimetre, "mm"}})
        if (text.ends_with(each.name)) {
            unit = each;
            text.remove_suffix(each.name.size());
            break;
        }
    const auto cut = text.find('x');
    if (cut == std::string_view::npos) return std::nullopt;
    const auto first = length(text.substr(0, cut), unit.unit), second = length(text.substr(cut + 1), unit.unit);
    if (!first || !second) return std::nullopt;
    return pair{*first, *second};
}

std::vector<std::string_view> words_of(std::string_view text) {
    std::vector<std::string_view> words;
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find_first_of(" ,", from), text.size());
        if (end > from) words.push_back(text.substr(from, end - from));
        from = end + 1;
    }
    return words;
}

/// What was written, before it is held against the paper.
struct stock_as_written {
    pair size;
    std::optional<std::pair<std::size_t, std::size_t>> grid;
    std::optional<pair> margins, gaps;
    measure unit;
};

stock_as_written as_written(std::string_view text) {
    const auto words = words_of(text);
    stock_as_written made;
    const auto size = words.empty() ? std::nullopt : lengths(words[0], made.unit);
    if (!size) throw not_read(text, words.empty() ? text : words[0]);
    made.size = *size;
    for (std::size_t i = 1; i < words.size(); ++i) {
        if (words[i] == "margins" || words[i] == "gaps") {
            auto& into = words[i] == "margins" ? made.margins : made.gaps;
            auto unit = made.unit;
            if (i + 1 == words.size() || !(into = lengths(words[i + 1], unit))) throw not_read(text, words[i]);
            ++i;
            continue;
        }
        measure one{1, ""};
        const auto grid = lengths(words[i], one);
        if (!grid || !one.name.empty() || made.grid || grid->first < 1 || grid->second < 1)
            throw not_read(text, words[i]);
        made.grid = {static_cast<std::size_t>(grid->first), static_cast<std::size_t>(grid->second)};
    }
    return made;
}

/// How many of a length fit into a room with gaps between them.
std::size_t fitting(micrometres room, micrometres of, micrometres gap) {
    return room < of ? 0 : static_cast<std::size_t>((room - of) / (of + gap)) + 1;
}

micrometres taken(std::size_t count, micrometres of, micrometres gap) {
    return static_cast<micrometres>(count) * (of + gap) - gap;
}

std::string shown(micrometres of, const measure& in) {
    auto text = fmt::format("{:.3f}", static_cast<double>(of) / static_cast<double>(in.unit));
    text.erase(text.find_last_not_of('0') + 1);
    if (text.ends_with('.')) text.pop_back();
    return text;
}

/// Refuses what does not fit, and says what would.
void hold_to_paper(std::string_view text, const stock_as_written& of, const label_stock& made, const paper_size& on) {
    const auto margin_left = of.margins ? of.margins->first : 0, margin_top = of.margins ? of.margins->second : 0;
    const auto across = margin_left + taken(made.columns, made.wide, made.gap_across);
    const auto down = margin_top + taken(made.rows, made.high, made.gap_down);
    if (across <= on.wide && down <= on.high) return;
    const auto columns = fitting(on.wide - margin_left, made.wide, made.gap_across),
               rows = fitting(on.high - margin_top, made.high, made.gap_down);
    throw records::input_error(fmt::format(
        "label stock '{}' does not fit {} paper: {} x {} labels take {} x {} {}, the paper is {} x {} {}; {}", text,
        on.heading, made.columns, made.rows, shown(across, of.unit), shown(down, of.unit), of.unit.name,
        shown(on.wide, of.unit), shown(on.high, of.unit), of.unit.name,
        columns == 0 || rows == 0 ? std::string{"not one such label fits"}
                                  : fmt::format("{} columns and {} rows fit", columns, rows)));
}

} // namespace

std::string in_millimetres(micrometres of) { return fmt::format("{}.{:03}mm", of / millimetre, of % millimetre); }

const paper_size& paper_called(std::string_view name) {
    for (const auto& each : papers)
        if (each.name == name) return each;
    throw records::input_error(
        fmt::format("'{}' is no size of paper that sheets are made for; write letter or a4", name));
}

label_stock::corner label_stock::corner_of(std::size_t place) const {
    const auto column = static_cast<micrometres>(place % columns), row = static_cast<micrometres>(place / columns);
    return {left + column * (wide + gap_across), top + row * (high + gap_down)};
}

label_stock read_label_stock(std::string_view text, const paper_size& on) {
    if (words_of(text).empty()) return read_label_stock(on.name == "a4" ? "99.1x67.7mm" : "4x2in", on);
    const auto of = as_written(text);
    label_stock made;
    made.wide = of.size.first;
    made.high = of.size.second;
    if (made.wide < least_wide || made.high < least_high)
        throw records::input_error(
            fmt::format("label stock '{}' is too small to be read; a label is {} x {} {} at least", text,
                        shown(least_wide, of.unit), shown(least_high, of.unit), of.unit.name));
    usual_sheet usual{made.wide, 0, 0};
    for (const auto& each : usual_sheets)
        if (each.wide == made.wide) usual = each;
    std::tie(made.gap_across, made.gap_down) = of.gaps.value_or(pair{usual.gap, 0});
    const auto room_across = on.wide - (of.margins ? of.margins->first : 0),
               room_down = on.high - (of.margins ? of.margins->second : 2 * usual.margin);
    made.columns = std::max<std::size_t>(1, fitting(room_across, made.wide, made.gap_across));
    made.rows = std::max<std::size_t>(1, fitting(room_down, made.high, made.gap_down));
    if (of.grid) std::tie(made.columns, made.rows) = *of.grid;
    if (made.columns > most_labels || made.rows > most_labels) throw not_read(text, "columns x rows");
    hold_to_paper(text, of, made, on);
    made.left = of.margins ? of.margins->first : (on.wide - taken(made.columns, made.wide, made.gap_across)) / 2;
    made.top = of.margins ? of.margins->second : (on.high - taken(made.rows, made.high, made.gap_down)) / 2;
    made.in_words = fmt::format("{}x{}{}, {} columns, {} rows", shown(made.wide, of.unit), shown(made.high, of.unit),
                                of.unit.name, made.columns, made.rows);
    return made;
}

} // namespace tarewell::render
