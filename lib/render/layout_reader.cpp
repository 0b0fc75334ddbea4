#include "render/layout_reader.hpp"

#include "quantity/clean_text.hpp"
#include "records/nearest_name.hpp"
#include "render/ascii_toml.hpp"
#include "render/form_check.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <algorithm>
#include <optional>

namespace tarewell::render {
namespace {

/// toml++ met a text that it does not expect.
struct unexpected_text {};
[[noreturn]] void throw_unexpected() { throw unexpected_text{}; }

} // namespace
} // namespace tarewell::render

// toml++ 3.3 asserts where it should throw ("[[#"), and without its assertions goes on: here they throw, always.
#undef NDEBUG
#define TOML_ASSERT(expression) ((expression) ? static_cast<void>(0) : tarewell::render::throw_unexpected())
#include <toml++/toml.h>

namespace tarewell::render {
namespace {

using names = std::vector<std::string>;

std::size_t line_of(const toml::node& of) { return std::max<std::size_t>(of.source().begin.line, 1); }

/// Bytes of a UTF-8 text that begin a character, each counted as the workbook counts: twice beyond the first plane.
std::size_t units_in(const std::string& text) {
    std::size_t units = 0;
    for (const char c : text) {
        const auto byte = static_cast<unsigned char>(c);
        units += (byte & 0xC0U) == 0x80U ? 0U : byte >= 0xF0U ? 2U : 1U;
    }
    return units;
}

std::size_t line_at(std::string_view text, std::size_t place) {
    return static_cast<std::size_t>(std::count(text.begin(), text.begin() + static_cast<std::ptrdiff_t>(place), '\n')) + 1;
}

bool is_expected(const std::string& text) {
    try {
        static_cast<void>(toml::parse(text));
    } catch (const unexpected_text&) {
        return false;
    } catch (const toml::parse_error&) { // cut in the middle of something
    }
    return true;
}

/// The first line with which the text is unexpected; toml++ reads from the front and stops there.
std::size_t line_unexpected(const std::string& text) {
    std::vector<std::size_t> ends; // of lines
    for (auto at = text.find('\n'); at != std::string::npos; at = text.find('\n', at + 1))
        ends.push_back(at + 1);
    const auto first = std::partition_point(ends.begin(), ends.end(),
                                            [&](std::size_t end) { return is_expected(text.substr(0, end)); });
    return static_cast<std::size_t>(first - ends.begin()) + 1;
}

class reader {
  public:
    layout_reading run(const std::string& given) {
        const auto bad = quantity::first_bad_byte(given);
        if (bad != std::string::npos) {
            fault(line_at(given, bad), "layout", "it is no UTF-8, or has a control character", "save it as UTF-8");
            return std::move(found_);
        }
        const auto text = in_ascii(given);
        try {
            const auto whole = toml::parse(text);
            read_whole(whole);
        } catch (const toml::parse_error& failure) {
            not_toml(failure, given);
        } catch (const unexpected_text&) {
            fault(line_unexpected(text), "layout", "it is no TOML", "write it as TOML does");
        }
        std::stable_sort(found_.findings.begin(), found_.findings.end(),
                         [](const auto& a, const auto& b) { return a.line < b.line; });
        return std::move(found_);
    }

  private:
    layout_reading found_;

    void fault(std::size_t line, std::string name, std::string what, std::string right) {
        found_.findings.push_back({line, std::move(name), std::move(what), std::move(right)});
    }

    void not_toml(const toml::parse_error& failure, std::string_view given) {
        const auto line = failure.source().begin.line;
        for (auto passed = line; passed > 1; --passed)
            given.remove_prefix(std::min(given.find('\n'), given.size() - 1) + 1);
        const auto there = given.substr(0, given.find('\n'));
        const bool ascii =
            std::all_of(there.begin(), there.end(), [](char c) { return static_cast<unsigned char>(c) < 0x80U; });
        fault(line, "layout", out_of_ascii(failure.description()),
              ascii ? "write it as TOML does"
                    : R"(write it as TOML does; letters and marks beyond ASCII stand in straight quotes alone, "so")");
    }

    void only_keys(const toml::table& in, const std::string& where, const names& known) {
        for (const auto& [key, value] : in) {
            const auto name = out_of_ascii(key.str());
            if (std::find(known.begin(), known.end(), name) != known.end()) continue;
            fault(key.source().begin.line, name, fmt::format("{} has no such key", where),
                  fmt::format("the nearest is {}; there are {}", records::nearest_name(name, known),
                              fmt::join(known, ", ")));
        }
    }

    /// A text by its key; when it is needed and missing, a fault at the table's own line.
    placed text(const toml::table& in, std::string_view key, const char* needed_as = nullptr) {
        const auto* found = in.get(key);
        if (found == nullptr) {
            if (needed_as != nullptr)
                fault(line_of(in), std::string{key}, "it is missing", fmt::format("write {} = \"{}\"", key, needed_as));
            return {{}, line_of(in)};
        }
        const auto value = found->value<std::string>();
        if (!found->is_string() || value->empty()) {
            fault(line_of(*found), std::string{key}, "it is no text", fmt::format("write {} = \"...\"", key));
            return {{}, line_of(*found)};
        }
        return {out_of_ascii(*value), line_of(*found)};
    }

    /// The number of a kind's name; the first when it is none of them.
    std::size_t kind(const toml::table& in, const names& known) {
        const auto given = text(in, "kind", known.front().c_str());
        const auto at = std::find(known.begin(), known.end(), given.text);
        if (at != known.end()) return static_cast<std::size_t>(at - known.begin());
        if (!given.empty())
            fault(given.line, "kind", fmt::format("there is no kind '{}'", given.text),
                  fmt::format("the nearest is {}; there are {}", records::nearest_name(given.text, known),
                              fmt::join(known, ", ")));
        return known.size();
    }

    template <class Each> void each_table(const toml::table& in, std::string_view key, Each each) {
        const auto* found = in.get(key);
        if (found == nullptr) return;
        const auto* list = found->as_array();
        const bool tables =
            list != nullptr && std::all_of(list->begin(), list->end(), [](const auto& one) { return one.is_table(); });
        if (!tables)
            return fault(line_of(*found), std::string{key}, "it is no list of tables",
                         fmt::format("begin each with [[{}]]", key));
        for (const auto& one : *list)
            each(*one.as_table());
    }

    template <class Each> void each_of(const toml::table& in, std::string_view key, const char* example, Each each) {
        const auto* found = in.get(key);
        if (found == nullptr) return;
        if (const auto* list = found->as_array())
            for (const auto& one : *list)
                each(one);
        else
            fault(line_of(*found), std::string{key}, "it is no list", fmt::format("write {} = {}", key, example));
    }

    /// "name", or { WORD = "name", label = "..." }
    std::optional<labelled> one_name(const toml::node& from, const std::string& word) {
        if (const auto* plain = from.as_string()) return labelled{{out_of_ascii(plain->get()), line_of(from)}, {}};
        if (const auto* table = from.as_table()) {
            only_keys(*table, "the name", {word, "label"});
            return labelled{text(*table, word, "..."), text(*table, "label").text};
        }
        fault(line_of(from), word, "it is no name",
              fmt::format(R"(write "NAME" or {{ {} = "NAME", label = "..." }})", word));
        return std::nullopt;
    }

    std::vector<labelled> named(const toml::table& in, std::string_view key, const std::string& word) {
        std::vector<labelled> all;
        each_of(in, key, R"(["NAME", "NAME"])", [&](const toml::node& one) {
            if (auto made = one_name(one, word)) all.push_back(std::move(*made));
        });
        return all;
    }

    void read_whole(const toml::table& whole) {
        only_keys(whole, "a layout", {"says", "title", "sheet"});
        found_.made.says = text(whole, "says", "What the workbook is.").text;
        found_.made.title = text(whole, "title", "{{award.program}}, {{quarter.title}}");
        each_table(whole, "sheet", [&](const toml::table& one) { read_sheet(one); });
        if (whole.get("sheet") == nullptr)
            fault(1, "sheet", "a workbook has one sheet at least", "begin one with [[sheet]]");
        sheet_names();
    }

    void read_sheet(const toml::table& in) {
        layout_sheet sheet;
        sheet.name = text(in, "name", "Summary");
        names kinds;
        for (const auto& each : sheet_kind_names)
            kinds.emplace_back(each.name);
        const auto number = kind(in, kinds);
        const bool known = number < kinds.size();
        if (known) sheet.kind = static_cast<sheet_kind>(number);
        names keys{"name", "kind", "title", "lines", "chart"};
        const bool rows = sheet.kind == sheet_kind::table || sheet.kind == sheet_kind::flags;
        const bool groups = sheet.kind == sheet_kind::figures || sheet.kind == sheet_kind::summary;
        if (groups) keys.emplace_back("group");
        if (sheet.kind == sheet_kind::table) keys.insert(keys.end(), {"table", "in_quarter", "total", "quarter_total"});
        if (rows) keys.emplace_back("columns");
        if (known) only_keys(in, fmt::format("a sheet of kind {}", kinds[number]), keys);
        if (in.get("title") != nullptr) sheet.title = text(in, "title");
        lines(in, sheet);
        each_table(in, "group", [&](const toml::table& one) {
            sheet.groups.push_back(sheet.kind == sheet_kind::summary ? summary_group(one) : group(one));
        });
        if (sheet.kind == sheet_kind::table) sheet.table = text(in, "table", "bales");
        sheet.columns = named(in, "columns", "column");
        if (in.get("in_quarter") != nullptr) sheet.in_quarter = text(in, "in_quarter");
        if (in.get("quarter_total") != nullptr) sheet.quarter_total = text(in, "quarter_total");
        if (const auto* total = in.get("total")) {
            if (!total->is_boolean())
                fault(line_of(*total), "total", "it is neither true nor false", "write total = false");
            sheet.total = total->value_or(true);
        }
        each_table(in, "chart", [&](const toml::table& one) { sheet.charts.push_back(chart(one)); });
        if (known) found_.made.sheets.push_back(std::move(sheet));
    }

    void lines(const toml::table& in, layout_sheet& sheet) {
        each_of(in, "lines", R"([["LABEL", "TEXT"]])", [&](const toml::node& one) {
            const auto* pair = one.as_array();
            if (pair == nullptr || pair->size() != 2 || !pair->get(0)->is_string() || !pair->get(1)->is_string())
                return fault(line_of(one), "lines", "a line is a label and a text", R"(write ["LABEL", "TEXT"])");
            const auto part = [&](std::size_t at) { return out_of_ascii(pair->get(at)->value_or(std::string_view{})); };
            sheet.lines.push_back({part(0), {part(1), line_of(*pair->get(1))}});
        });
    }

    layout_group group(const toml::table& in) {
        only_keys(in, "a group", {"heading", "figures"});
        layout_group made{text(in, "heading", "Bales").text, named(in, "figures", "figure"), {}};
        if (made.figures.empty())
            fault(line_of(in), "figures", "a group has one figure at least", R"(write figures = ["NAME"])");
        return made;
    }

    layout_group summary_group(const toml::table& in) {
        only_keys(in, "a summary's group", {"heading", "row"});
        layout_group made{text(in, "heading", "Film").text, {}, {}};
        each_table(in, "row", [&](const toml::table& one) {
            only_keys(one, "a row", {"label", "quarter", "to_date", "award"});
            const auto given = [&](const char* key) { return one.get(key) == nullptr ? placed{} : text(one, key); };
            made.rows.push_back(
                {text(one, "label", "Bales weighed"), given("quarter"), given("to_date"), given("award")});
            if (made.rows.back().quarter.empty() && made.rows.back().to_date.empty())
                fault(line_of(one), "row", "it names no figure", R"(write quarter = "FIGURE" or to_date = "FIGURE")");
        });
        if (made.rows.empty())
            fault(line_of(in), "row", "a group has one row at least", R"(begin one with [[sheet.group.row]])");
        return made;
    }

    layout_chart chart(const toml::table& in) {
        only_keys(in, "a chart", {"kind", "title", "alt", "from", "categories", "series", "figures"});
        layout_chart made;
        made.line = line_of(in);
        const auto number = kind(in, {std::begin(chart_kind_names), std::end(chart_kind_names)});
        made.kind = static_cast<chart_kind>(std::min<std::size_t>(number, 2));
        made.title = text(in, "title", "Tons diverted, by month");
        made.alt = text(in, "alt", "What the chart shows, for those who cannot see it.");
        if (in.get("from") != nullptr) made.from = text(in, "from");
        made.series = named(in, "series", "column");
        each_of(in, "figures", R"(["NAME", "NAME"])", [&](const toml::node& one) {
            if (const auto* name = one.as_string())
                made.figures.push_back({out_of_ascii(name->get()), line_of(one)});
            else
                fault(line_of(one), "figures", "it is no name", R"(write "NAME")");
        });
        if (made.figures.empty())
            made.categories = text(in, "categories", "month");
        else if (in.get("categories") != nullptr || !made.series.empty())
            fault(made.line, "figures", "a chart draws figures or columns", "keep figures, or categories and series");
        if (made.figures.empty() && made.series.empty())
            fault(made.line, "series", "a chart has one series at least", R"(write series = ["COLUMN"])");
        return made;
    }

    /// What a workbook asks of its sheets' names.
    void sheet_names() {
        names before;
        for (const auto& sheet : found_.made.sheets) {
            const auto& name = sheet.name;
            if (name.empty()) continue;
            constexpr std::size_t longest = 31;
            if (const auto units = units_in(name.text); units > longest)
                fault(name.line, "name", fmt::format("'{}' has {} characters", name.text, units),
                      fmt::format("a sheet's name has {} at most", longest));
            const bool controls = std::any_of(name.text.begin(), name.text.end(),
                                              [](char c) { return static_cast<unsigned char>(c) < 0x20U; });
            if (controls || name.text.find_first_of("[]:*?/\\") != std::string::npos)
                fault(name.line, "name", fmt::format("'{}' has a character that a sheet's name cannot have", name.text),
                      R"(leave out [ ] : * ? / \)");
            if (name.text.front() == '\'' || name.text.back() == '\'')
                fault(name.line, "name", fmt::format("{} begins or ends with an apostrophe", name.text),
                      "leave it out");
            std::string lower;
            for (const char c : name.text)
                lower += static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
            if (std::find(before.begin(), before.end(), lower) != before.end())
                fault(name.line, "name", fmt::format("there are two sheets '{}'", name.text),
                      "give each its own name; small and capital letters count as the same");
            before.push_back(std::move(lower));
        }
    }
};

} // namespace

layout_reading read_layout(const std::string& text) { return reader{}.run(text); }

} // namespace tarewell::render
