#include "render/layout_check.hpp"

#include "figures/figure.hpp"
#include "records/nearest_name.hpp"
#include "render/form_names.hpp"
#include "render/layout_reader.hpp"
#include "render/report_tables.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::render {
namespace {

using names = std::vector<std::string>;

/// Groups of a page's names that a layout's texts may use.
constexpr std::string_view text_groups[] = {"quarter", "award", "mark", "signed", "figure"};

names figure_names() {
    names all;
    for (const auto& each : figures::all_figure_names())
        all.emplace_back(each.name);
    return all;
}

class checker {
  public:
    checker(const layout& of, std::vector<records::finding>& found) : of_{of}, found_{found} {}

    void run() {
        text(of_.title, "title");
        for (const auto& each : of_.sheets) {
            text(each.title, "title");
            for (const auto& line : each.lines)
                text(line.text, "lines");
            shown_figures(each);
            summary_rows(each);
            table(each);
        }
        for (const auto& each : of_.sheets)
            for (const auto& chart : each.charts)
                drawn(each, chart);
    }

  private:
    const layout& of_;
    std::vector<records::finding>& found_;
    const names figures_ = figure_names();

    void fault(std::size_t line, std::string name, std::string what, std::string right) {
        found_.push_back({line, std::move(name), std::move(what), std::move(right)});
    }

    void text(const placed& in, const char* key) {
        for (std::size_t at = 0; (at = in.text.find("{{", at)) != std::string::npos;) {
            const auto end = in.text.find("}}", at);
            if (end == std::string::npos) return fault(in.line, key, "a name is not closed", "end it with }}");
            text_name(in.text.substr(at + 2, end - at - 2), in.line);
            at = end;
        }
    }

    void text_name(const std::string& name, std::size_t line) {
        const auto* known = all_form_names().resolve(name);
        const bool may = std::find(std::begin(text_groups), std::end(text_groups), name.substr(0, name.find('.'))) !=
                         std::end(text_groups);
        if (may && known != nullptr && known->kind == name_kind::text) return;
        names all;
        for (const auto group : text_groups)
            for (const auto& each : all_form_names().find(group)->inside) {
                if (each.kind == name_kind::text) all.push_back(fmt::format("{}.{}", group, each.name));
                for (const auto& inner : each.inside)
                    all.push_back(fmt::format("{}.{}.{}", group, each.name, inner.name));
            }
        fault(line, name, "there is no such name for a text",
              fmt::format("the nearest is {}", records::nearest_name(name, all)));
    }

    void shown_figures(const layout_sheet& sheet) {
        std::set<std::string> before;
        for (const auto& group : sheet.groups)
            for (const auto& each : group.figures) {
                known_figure(each.name);
                if (!before.insert(each.name.text).second)
                    fault(each.name.line, each.name.text, "the figure stands twice on the sheet", "leave one out");
            }
    }

    void summary_rows(const layout_sheet& sheet) {
        for (const auto& group : sheet.groups)
            for (const auto& row : group.rows) {
                for (const auto* each : {&row.quarter, &row.to_date})
                    if (!each->empty()) known_figure(*each);
                if (row.award.text.find("{{") != std::string::npos)
                    text(row.award, "award");
                else if (!row.award.empty())
                    known_figure(row.award);
            }
    }

    void known_figure(const placed& name) {
        if (name.text.ends_with('*')) return;
        if (std::find(figures_.begin(), figures_.end(), name.text) == figures_.end())
            fault(name.line, name.text, "there is no such figure",
                  fmt::format("the nearest is {}", records::nearest_name(name.text, figures_)));
    }

    static shared_table table_of(const layout_sheet& sheet) {
        return sheet.kind == sheet_kind::flags   ? known_tables().called("flags")
               : sheet.kind == sheet_kind::table ? known_tables().called(sheet.table.text)
                                                 : nullptr;
    }

    void table(const layout_sheet& sheet) {
        const auto found = table_of(sheet);
        if (sheet.kind == sheet_kind::table && found == nullptr && !sheet.table.empty()) {
            names all;
            for (const auto& each : known_tables().all)
                all.push_back(form_word(each->name));
            return fault(sheet.table.line, sheet.table.text, "there is no such table",
                         fmt::format("the nearest is {}", records::nearest_name(sheet.table.text, all)));
        }
        if (found == nullptr) return;
        std::set<std::string> before;
        for (const auto& each : sheet.columns) {
            known_column(*found, each.name);
            if (!before.insert(each.name.text).second)
                fault(each.name.line, each.name.text, "the column stands twice on the sheet", "leave one out");
        }
        headings(*found, sheet);
        for (const auto* dated : {&sheet.in_quarter, &sheet.quarter_total}) {
            if (dated->empty()) continue;
            const auto* column = known_column(*found, *dated);
            if (column != nullptr && column->content != figures::content::date)
                fault(dated->line, dated->text, "the column holds no dates", date_columns(*found));
        }
    }

    static std::string date_columns(const figures::table& of) {
        std::string all;
        for (const auto& each : of.columns)
            if (each.content == figures::content::date) all += (all.empty() ? "dates are in " : ", ") + each.name;
        return all.empty() ? "the table has no dates: leave in_quarter and quarter_total out" : all;
    }

    /// A table's headings must differ, or a workbook does not open.
    void headings(const figures::table& of, const layout_sheet& sheet) {
        std::set<std::string> before;
        for (const auto& each : sheet.columns) {
            auto heading = each.label;
            for (const auto& column : of.columns)
                if (heading.empty() && column.name == each.name.text) heading = column.heading;
            std::transform(heading.begin(), heading.end(), heading.begin(),
                           [](unsigned char c) { return static_cast<char>(std::tolower(c)); });
            if (!heading.empty() && !before.insert(heading).second)
                fault(each.name.line, each.name.text, fmt::format("another column has the label '{}'", heading),
                      "give each its own");
        }
    }

    const figures::table_column* known_column(const figures::table& of, const placed& name) {
        names all;
        for (const auto& each : of.columns) {
            if (each.name == name.text) return &each;
            all.push_back(each.name);
        }
        fault(name.line, name.text, fmt::format("the table {} has no such column", form_word(of.name)),
              fmt::format("the nearest is {}", records::nearest_name(name.text, all)));
        return nullptr;
    }

    void drawn(const layout_sheet& own, const layout_chart& chart) {
        const auto* sheet = &own;
        if (!chart.from.empty()) {
            names all;
            sheet = nullptr;
            for (const auto& each : of_.sheets) {
                if (each.name.text == chart.from.text) sheet = &each;
                all.push_back(each.name.text);
            }
            if (sheet == nullptr)
                return fault(chart.from.line, chart.from.text, "there is no such sheet",
                             fmt::format("the nearest is {}", records::nearest_name(chart.from.text, all)));
        }
        if (!chart.figures.empty()) return drawn_figures(*sheet, chart);
        const auto found = table_of(*sheet);
        if (found == nullptr)
            return fault(chart.line, "chart", fmt::format("the sheet '{}' has no columns to draw", sheet->name.text),
                         "name a sheet of kind table with from, or draw figures");
        for (const auto& each : chart.series)
            shown_column(*found, *sheet, each.name, true);
        shown_column(*found, *sheet, chart.categories, false);
    }

    void shown_column(const figures::table& of, const layout_sheet& sheet, const placed& name, bool numbers) {
        if (name.empty()) return;
        const auto* column = known_column(of, name);
        if (column == nullptr) return;
        const bool shown =
            sheet.columns.empty() || std::any_of(sheet.columns.begin(), sheet.columns.end(),
                                                 [&](const auto& each) { return each.name.text == name.text; });
        if (!shown)
            fault(name.line, name.text, fmt::format("the sheet '{}' leaves this column out", sheet.name.text),
                  "add it to the sheet's columns");
        else if (numbers && (column->content == figures::content::words || column->content == figures::content::date))
            fault(name.line, name.text, "the column holds no numbers to draw",
                  "draw a column of counts, weights, money or ratios");
    }

    /// Figures drawn must stand one below the other: a chart draws one range.
    void drawn_figures(const layout_sheet& sheet, const layout_chart& chart) {
        for (const auto& each : chart.figures)
            known_figure(each);
        names order, wanted;
        for (const auto& each : figures_on(sheet))
            order.push_back(each.name);
        for (const auto& each : chart.figures)
            wanted.push_back(each.text);
        if (sheet.kind != sheet_kind::figures ||
            std::search(order.begin(), order.end(), wanted.begin(), wanted.end()) == order.end())
            fault(chart.figures.front().line, "figures",
                  fmt::format("they do not stand one below the other on the sheet '{}'", sheet.name.text),
                  "put them so in one of its groups, in this order");
    }
};

} // namespace

std::vector<std::string> layout_faults(const form_text& form) {
    auto reading = read_layout(form.text);
    checker{reading.made, reading.findings}.run();
    std::stable_sort(reading.findings.begin(), reading.findings.end(),
                     [](const auto& a, const auto& b) { return a.line < b.line; });
    std::vector<std::string> faults;
    for (const auto& each : reading.findings)
        faults.push_back(each.text(form.file));
    return faults;
}

layout need_layout(const form_text& form) {
    if (auto faults = layout_faults(form); !faults.empty()) throw records::refused(std::move(faults));
    return read_layout(form.text).made;
}

} // namespace tarewell::render
