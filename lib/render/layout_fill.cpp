#include "render/layout_fill.hpp"

#include "render/fill_sheets.hpp"
#include "render/form_names.hpp"
#include "render/page_parts.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <map>
#include <set>

namespace tarewell::render {
namespace {

constexpr std::size_t most_drawn = 60; // rows that a chart still shows one by one

/// The names that a formula refers to: words in small letters outside of quoted texts.
std::vector<std::string> names_in(const std::string& formula) {
    std::vector<std::string> names;
    std::string word;
    bool quoted = false;
    for (const char c : formula + " ") {
        if (c == '"') quoted = !quoted;
        const bool begins = c >= 'a' && c <= 'z';
        const bool goes_on = !word.empty() && (c == '_' || (c >= '0' && c <= '9'));
        if (!quoted && (begins || goes_on))
            word += c;
        else if (!word.empty())
            names.push_back(std::exchange(word, {}));
    }
    return names;
}

class filler {
  public:
    filler(const layout& of, const page_input& input) : of_{of}, in_{input}, tables_{report_tables(input)} {
        keep("quarter.", parts::quarter_texts(input));
        keep("award.", parts::award_texts(input));
        keep("mark.", parts::mark_texts(input));
        keep("signed.", parts::signed_texts(input));
        for (const auto& each : input.report.figures)
            keep("figure." + each.name + ".", parts::figure_texts(each));
    }

    filled_workbook run() {
        for (const auto& each : of_.sheets)
            add(each);
        for (auto& sheet : made_)
            one_cell_a_name(sheet);
        for (auto& sheet : made_)
            known_names_alone(sheet);
        for (std::size_t i = 0; i < made_.size(); ++i)
            for (const auto& chart : kept_[i]->charts)
                draw(made_[i], *kept_[i], chart);
        return {text(of_.title), std::move(made_)};
    }

  private:
    const layout& of_;
    const page_input& in_;
    const table_shelf tables_;
    std::map<std::string, std::string, std::less<>> texts_; ///< by their names in a page
    std::vector<sheet_data> made_;
    std::vector<const layout_sheet*> kept_; ///< beside made_
    std::set<std::string> names_;           ///< of the workbook

    void keep(const std::string& group, const parts::named_texts& texts) {
        for (const auto& [name, text] : texts)
            texts_.emplace(group + name, text);
    }

    [[nodiscard]] std::string value_of(std::string_view name) const {
        const auto found = texts_.find(name);
        return found == texts_.end() ? std::string{} : found->second;
    }

    [[nodiscard]] std::string text(const placed& from) const {
        std::string made;
        std::string_view rest = from.text;
        for (auto at = rest.find("{{"); at != std::string_view::npos; at = rest.find("{{")) {
            const auto end = rest.find("}}", at);
            made += said_of(in_.report.basis.period, rest.substr(0, at));
            made += value_of(rest.substr(at + 2, end - at - 2));
            rest.remove_prefix(end + 2);
        }
        return made + said_of(in_.report.basis.period, rest);
    }

    void add(const layout_sheet& of) {
        auto sheet = rows_of(of);
        if (!sheet) return;
        sheet->name = of.name.text;
        sheet->kind = of.kind;
        sheet->title = text(of.title);
        for (const auto& each : of.lines) {
            const auto said = text(each.text);
            if (!said.empty()) sheet->lines.push_back(line_of(each, said));
        }
        made_.push_back(std::move(*sheet));
        kept_.push_back(&of);
    }

    [[nodiscard]] shown_line line_of(const layout_line& from, const std::string& said) const {
        const auto days = in_.report.basis.days;
        const auto name = only_name_in(from.text.text);
        const auto label = said_of(in_.report.basis.period, from.label);
        if (name == "quarter.from") return {label, said, days.from, "quarter_from"};
        if (name == "quarter.to") return {label, said, days.to, "quarter_to"};
        return {label, said, {}, {}};
    }

    [[nodiscard]] std::optional<sheet_data> rows_of(const layout_sheet& of) const {
        switch (of.kind) {
        case sheet_kind::figures:
            return figures_sheet(of, in_);
        case sheet_kind::summary:
            return summary_sheet(of, in_, [this](const placed& each) { return text(each); });
        case sheet_kind::tie_out:
            return tie_out_sheet(in_, *tables_.evidence);
        case sheet_kind::terms:
            return terms_sheet(in_);
        case sheet_kind::subawards:
            return subawards_sheet(in_);
        case sheet_kind::method:
            return method_sheet(of_, in_, tables_);
        case sheet_kind::quarters:
            return quarters_sheet(in_);
        case sheet_kind::table:
            return chosen(of, tables_.called(of.table.text));
        case sheet_kind::flags:
            return flags(of);
        case sheet_kind::text:
        case sheet_kind::charts:
            break;
        }
        return sheet_data{};
    }

    [[nodiscard]] std::optional<sheet_data> flags(const layout_sheet& of) const {
        auto sheet = chosen(of, tables_.called("flags"));
        if (!sheet) return std::nullopt;
        for (std::size_t c = 0; c < sheet->columns.size(); ++c)
            for (std::size_t r = 0; r < sheet->rows.size() && sheet->name_of(c) == "sentence"; ++r)
                sheet->special[{r, c}].how = look::wrapped;
        return sheet;
    }

    [[nodiscard]] std::optional<sheet_data> chosen(const layout_sheet& of, const shared_table& source) const {
        if (source == nullptr) return std::nullopt;
        sheet_data sheet;
        sheet.source = source;
        const auto add_column = [&](std::size_t c, const std::string& label) {
            const auto& column = source->columns[c];
            const auto name =
                of.in_quarter.empty() ? fmt::format("{}_{}", form_word(source->name), column.name) : std::string{};
            const bool marks = form_word(source->name) == "flags" && column.name == "stops";
            sheet.columns.push_back({c, label.empty() ? column.heading : label, of.total && column.summed, name,
                                     marks ? "blocks closing" : ""});
        };
        for (std::size_t c = 0; of.columns.empty() && c < source->columns.size(); ++c)
            add_column(c, {});
        for (const auto& each : of.columns)
            for (std::size_t c = 0; c < source->columns.size(); ++c) // growers' names are there only when asked for
                if (source->columns[c].name == each.name.text) add_column(c, each.label);
        if (sheet.columns.empty()) return std::nullopt;
        const bool totals =
            std::any_of(sheet.columns.begin(), sheet.columns.end(), [](const auto& each) { return each.total; });
        for (std::size_t r = 0; r < source->rows.size(); ++r)
            if (of.in_quarter.empty() || is_in_quarter(source->rows[r][source->column(of.in_quarter.text)]))
                sheet.rows.push_back(r);
        if (totals && !sheet.rows.empty()) sheet.total_label = "Total";
        if (!sheet.total_label.empty() && !of.quarter_total.empty()) add_quarter_total(sheet, of.quarter_total.text);
        return sheet;
    }

    /// Where the rows are the whole ledger's, the first total says so, and the quarter's stands below it.
    void add_quarter_total(sheet_data& sheet, const std::string& dated_by) const {
        const auto shown = column_called(sheet, dated_by);
        if (!shown) return;
        sheet.total_label = "Total of the rows shown";
        dated_total made{
            fmt::format("In {} by \"{}\"", quantity::text_of(in_.report.basis.period), sheet.columns[*shown].heading),
            *shown,
            in_.report.basis.days,
            {}};
        for (std::size_t r = 0; r < sheet.rows.size(); ++r)
            if (is_in_quarter(sheet.at(r, *shown))) made.rows.push_back(sheet.rows[r]);
        sheet.quarter_total = std::move(made);
    }

    [[nodiscard]] bool is_in_quarter(const figures::cell& date) const {
        const auto* day = std::get_if<quantity::day>(&date);
        return day != nullptr && in_.report.basis.days.holds(*day);
    }

    /// A name stands for the first place that has it; a figure shown again points to the first.
    void one_cell_a_name(sheet_data& sheet) {
        const auto once = [&](std::string& name) {
            if (!name.empty() && !names_.insert(name).second) name.clear();
        };
        for (auto& line : sheet.lines)
            once(line.name);
        for (auto& column : sheet.columns)
            once(column.range_name);
        for (auto& [where, cell] : sheet.special) {
            if (cell.name.empty() || names_.insert(cell.name).second) continue;
            cell.formula = "=" + cell.name;
            cell.name.clear();
        }
        for (auto& [column, cell] : sheet.special_totals)
            once(cell.name);
    }

    /// Formulas stay only where the workbook holds every name in them.
    void known_names_alone(sheet_data& sheet) const {
        const auto keep = [&](special_cell& cell) {
            for (const auto& name : names_in(cell.formula))
                if (!names_.contains(name)) return cell.formula.clear();
        };
        for (auto& [where, cell] : sheet.special)
            keep(cell);
        for (auto& [column, cell] : sheet.special_totals)
            keep(cell);
    }

    void draw(sheet_data& on, const layout_sheet& own, const layout_chart& of) {
        const auto wanted = of.from.empty() ? own.name.text : of.from.text;
        const auto found =
            std::find_if(made_.begin(), made_.end(), [&](const auto& each) { return each.name == wanted; });
        if (found == made_.end()) return;
        shown_chart chart{
            of.kind, text(of.title), text(of.alt), static_cast<std::size_t>(found - made_.begin()), 0, {}, 0, 0, {}};
        if (of.figures.empty())
            columns_drawn(*found, of, chart);
        else
            figures_drawn(*found, of, chart);
        if (chart.row_count > 0 && !chart.series.empty()) on.charts.push_back(std::move(chart));
    }

    static std::optional<std::size_t> column_called(const sheet_data& of, const std::string& name) {
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            if (of.source->columns[of.columns[c].index].name == name) return c;
        return std::nullopt;
    }

    void columns_drawn(const sheet_data& of, const layout_chart& wanted, shown_chart& chart) const {
        const auto categories = column_called(of, wanted.categories.text);
        if (!categories) return;
        chart.categories = *categories;
        for (const auto& each : wanted.series)
            if (const auto column = column_called(of, each.name.text))
                chart.series.push_back({each.label.empty() ? of.columns[*column].heading : each.label, *column});
        chart.row_count = std::min(of.rows.size(), most_drawn);
        if (of.rows.size() > most_drawn)
            chart.title += fmt::format(" (the first {} of {})", most_drawn, of.rows.size());
        if (!chart.series.empty()) chart.unit = unit_of(of, chart.series.front().column);
    }

    [[nodiscard]] std::string unit_of(const sheet_data& of, std::size_t column) const {
        switch (of.content_of(column)) {
        case figures::content::heft:
            return std::string{quantity::name_of(in_.season.the_award->unit)};
        case figures::content::dollars:
            return "dollars";
        default:
            return of.columns[column].heading;
        }
    }

    void figures_drawn(const sheet_data& of, const layout_chart& wanted, shown_chart& chart) const {
        const auto values = column_called(of, "value"), meanings = column_called(of, "meaning");
        if (!values || !meanings) return;
        for (const auto& [where, cell] :
             of.special) // a figure's cell is called by its name, or points to the one that is
            if (cell.name == wanted.figures.front().text || cell.formula == "=" + wanted.figures.front().text)
                chart.first_row = where.first;
        chart.row_count = wanted.figures.size();
        chart.categories = *meanings;
        chart.series.push_back({"Value", *values});
        if (const auto units = column_called(of, "unit")) chart.unit = exact_text(of.at(chart.first_row, *units));
    }
};

} // namespace

filled_workbook fill_layout(const layout& of, const page_input& input) { return filler{of, input}.run(); }

} // namespace tarewell::render
