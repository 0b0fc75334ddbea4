#include "render/rollup_workbook.hpp"

#include "figures/make_columns.hpp"
#include "render/fill_sheets.hpp"
#include "render/workbook_writer.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

using namespace figures; // NOLINT
using desk::rolled_ledger;
using desk::rolled_sum;
using desk::rollup;
using quantity::text_of;

constexpr const char* goal_name = "goal_tons";
constexpr const char* goal_meaning = "The award's goal, in tons of 2,000 lb";
constexpr std::string_view kg_per_lb = "0.45359237"; // exact by definition (quantity::kg_per_lb_e8)

std::string sheet_of(const rolled_ledger& ledger) { return "Ledger " + ledger.label; }

/// The workbook's number of a row below a sheet's headings.
std::size_t row_number(const sheet_data& of, std::size_t row) { return of.header_row() + 2 + row; }

/// A cell's value in the unit of the sums, as a formula.
std::string converted_formula(const std::string& cell, const rolled_ledger& ledger, const rollup& of) {
    if (ledger.terms.unit == of.unit) return cell;
    return fmt::format("ROUND({}{}{},3)", cell, of.unit == quantity::weight_unit::kg ? "*" : "/", kg_per_lb);
}

table_column number(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::ratio, false};
}

/// All figures of one ledger, one below the other, with what each leads back to.
sheet_data ledger_sheet(const rolled_ledger& ledger, const rollup& of) {
    const auto& unit = quantity::name_of(of.unit);
    table rows{sheet_of(ledger),
               "",
               {words("meaning", "Figure"), words("name", "Name"), number("value", "Value"), words("unit", "Unit"),
                number("in_unit", fmt::format("In {}", unit)), counts("evidence", "Rows of evidence"),
                words("reason", "Note")},
               {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special;
    const bool same_unit = ledger.terms.unit == of.unit;
    for (const auto& each : ledger.report.figures) {
        const auto at = rows.rows.size();
        special[{at, 0}].how = look::wrapped;
        special[{at, 2}].how = look_of(each.value, each.unit);
        cell in_unit;
        if (const auto* heft = std::get_if<weight>(&each.value); heft != nullptr && !same_unit) {
            in_unit = converted(*heft, ledger.terms.unit, of.unit);
            special[{at, 4}] = {"=" + converted_formula("C#", ledger, of), {}, look::weight};
        }
        rows.rows.push_back(row_of(each.meaning, each.name, cell_of(each.value), each.unit, in_unit,
                                   static_cast<std::int64_t>(each.rows), each.reason));
    }
    special[{rows.rows.size(), 2}].how = look::tons;
    rows.rows.push_back(
        row_of(goal_meaning, goal_name, quantity::nearest_double(ledger.terms.goal_tons), "tons", cell{}, cell{}, ""));
    auto sheet = whole_sheet(std::move(rows));
    sheet.special = std::move(special);
    sheet.name = sheet_of(ledger);
    sheet.kind = sheet_kind::figures;
    sheet.title = fmt::format("{}: {}", ledger.label, ledger.terms.program);
    const auto say = [&](const char* label, std::string text) {
        sheet.lines.push_back({label, std::move(text), {}, {}});
    };
    say("Award", fmt::format("{}, {}", ledger.terms.id, ledger.terms.agency));
    say("Ledger", ledger.path);
    say("Period", fmt::format("{}: {} to {}", quantity::title_of(of.period), text_of(ledger.days().from),
                              text_of(ledger.days().to)));
    say("State", ledger.filed ? fmt::format("as filed by entry {}, certified by {}", ledger.filed->entry,
                                            ledger.filed->signatures.certified_by)
                              : std::string{"open"});
    say("As of entry", fmt::format("{} of {}", ledger.as_of.seq, ledger.head.seq));
    say("Ledger fingerprint", ledger::hex(ledger.as_of.hash));
    say("Unit of weights", std::string{quantity::name_of(ledger.terms.unit)});
    return sheet;
}

/// Which ledger is what, and what each of its numbers leads to.
sheet_data ledgers_sheet(const rollup& of) {
    table rows{"Ledgers",
               "",
               {words("ledger", "Ledger"), words("award", "Award"), words("agency", "Agency"),
                words("program", "Program"), words("region", "Region"), words("unit", "Unit"),
                counts("quarter_starts", "Program year begins in month"), date_column("from", "From"),
                date_column("to", "To"), words("state", "State"), counts("closing", "Closing's entry"),
                counts("as_of", "As of entry"), words("fingerprint", "Fingerprint as of that entry"),
                counts("head", "Newest entry"), words("file", "File")},
               {}};
    for (const auto& each : of.ledgers) {
        const auto& terms = each.terms;
        auto state = std::string{each.state()};
        if (!each.quarters_filed.empty()) state += "; filed: " + each.quarters_filed;
        rows.rows.push_back(row_of(each.label, terms.id, terms.agency, terms.program, terms.region,
                                   std::string{quantity::name_of(terms.unit)}, std::int64_t{terms.quarter_starts},
                                   each.days().from, each.days().to, std::move(state),
                                   each.filed ? cell{each.filed->entry} : cell{}, each.as_of.seq,
                                   ledger::hex(each.as_of.hash), each.head.seq, each.path));
    }
    auto sheet = whole_sheet(std::move(rows));
    sheet.name = "Ledgers";
    sheet.kind = sheet_kind::table;
    return sheet;
}

sheet_data notes_sheet(const rollup& of) {
    sheet_data sheet;
    sheet.name = "Notes";
    sheet.title = "Notes";
    for (std::size_t i = 0; i < of.notes.size(); ++i)
        sheet.lines.push_back({fmt::format("{}", i + 1), of.notes[i], {}, {}});
    return sheet;
}

/// The ledgers side by side, their sums, and how each line goes together.
class summary_filler {
  public:
    summary_filler(const rollup& of, const std::vector<sheet_data>& ledgers) : of_{of}, ledgers_{ledgers} {
        for (const auto& each : of.ledgers)
            rows_.columns.push_back(number("ledger_" + each.label, heading_of(each)));
        for (std::size_t i = 0; i < of.sums.size(); ++i)
            rows_.columns.push_back(number(fmt::format("sum_{}", i + 1), heading_of(of.sums[i])));
        rows_.columns.push_back(words("how", "How"));
        head_.title = fmt::format("{}, side by side and summed", of.title());
        const auto& all = of.sums.back();
        head_.lines = {{"Days",
                        fmt::format("{} to {}{}", text_of(all.days.from), text_of(all.days.to),
                                    all.same_days ? "" : "; not the same in all: see Ledgers and Notes"),
                        {},
                        {}},
                       {"Weights summed in", std::string{quantity::name_of(of.unit)}, {}, {}}};
        const auto& figures = all.sum.figures;
        for (std::size_t i = 0; i < figures.size(); ++i)
            row_of_name_[figures[i].name] = row_number(head_, i);
        row_of_name_[goal_name] = row_number(head_, figures.size());
    }

    sheet_data run() {
        for (std::size_t i = 0; i < of_.sums.back().sum.figures.size(); ++i)
            add_figure(i);
        add_goal();
        auto sheet = whole_sheet(std::move(rows_));
        sheet.special = std::move(special_);
        sheet.name = "Summary";
        sheet.kind = sheet_kind::quarters;
        sheet.title = head_.title;
        sheet.lines = head_.lines;
        return sheet;
    }

  private:
    static constexpr std::size_t first_ledger = 3; ///< column
    const rollup& of_;
    const std::vector<sheet_data>& ledgers_;
    sheet_data head_; ///< what stands above the table
    std::map<std::string, std::size_t, std::less<>> row_of_name_;
    table rows_{"Summary", "", {words("figure", "Figure"), words("name", "Name"), words("unit", "Unit")}, {}};
    std::map<std::pair<std::size_t, std::size_t>, special_cell> special_;

    [[nodiscard]] std::string heading_of(const rolled_ledger& ledger) const {
        const auto unit = quantity::name_of(ledger.terms.unit);
        return fmt::format("{} {}, {}{}{}", ledger.label, ledger.terms.id, ledger.state(),
                           ledger.terms.unit == of_.unit ? "" : ", in ", ledger.terms.unit == of_.unit ? "" : unit);
    }
    [[nodiscard]] std::string heading_of(const rolled_sum& sum) const {
        const bool open =
            std::any_of(sum.ledgers.begin(), sum.ledgers.end(), [&](std::size_t at) { return !of_.ledgers[at].filed; });
        return sum.name + (open ? ", open" : "");
    }
    [[nodiscard]] std::size_t column_of(const rolled_sum& sum) const {
        return first_ledger + of_.ledgers.size() + static_cast<std::size_t>(&sum - of_.sums.data());
    }

    void start_row(const std::string& meaning, const std::string& name, const std::string& unit) {
        special_[{rows_.rows.size(), 0}].how = look::wrapped;
        rows_.rows.push_back(row_of(meaning, name, unit));
    }
    void put(cell value, const std::string& formula, look how, const std::string& name = {}) {
        auto& row = rows_.rows.back();
        special_[{rows_.rows.size() - 1, row.size()}] = {formula, name, how};
        row.push_back(std::move(value));
    }
    /// What is undefined is an empty text, and no 0.
    [[nodiscard]] std::string link_to(std::size_t ledger, std::size_t row, bool defined) const {
        const auto cell = fmt::format("'{}'!C{}", ledgers_[ledger].name, row_number(ledgers_[ledger], row));
        return defined ? "=" + cell : fmt::format(R"(=IF(ISNUMBER({0}),{0},""))", cell);
    }
    [[nodiscard]] std::string cells_of(const rolled_sum& sum) const {
        return fmt::format("{}#:{}#", letters_of(first_ledger + sum.ledgers.front()),
                           letters_of(first_ledger + sum.ledgers.back()));
    }

    void add_figure(std::size_t i) {
        const auto& figure = of_.sums.back().sum.figures[i];
        start_row(figure.meaning, figure.name, figure.unit);
        for (std::size_t at = 0; at < of_.ledgers.size(); ++at) {
            const auto& own = of_.ledgers[at].report.figures[i];
            const bool defined = !std::holds_alternative<std::monostate>(own.value);
            put(cell_of(own.value), link_to(at, i, defined), look_of(own.value, own.unit));
        }
        for (const auto& sum : of_.sums) {
            const auto& summed = sum.sum.figures[i];
            put(cell_of(summed.value), summed.anew ? rate_formula(summed, sum) : sum_formula(summed, sum, i),
                look_of(summed.value, summed.unit), &sum == &of_.sums.back() ? summed.name : std::string{});
        }
        rows_.rows.back().emplace_back(!figure.reason.empty() ? figure.reason
                                       : figure.anew          ? "worked out anew from the sums"
                                                              : "sum");
    }
    void add_goal() {
        start_row(goal_meaning, goal_name, "tons");
        const auto row = of_.sums.back().sum.figures.size();
        for (std::size_t at = 0; at < of_.ledgers.size(); ++at)
            put(quantity::nearest_double(of_.ledgers[at].terms.goal_tons), link_to(at, row, true), look::tons);
        for (const auto& sum : of_.sums)
            put(sum.sum.goal_tons, fmt::format("=SUM({})", cells_of(sum)), look::tons,
                &sum == &of_.sums.back() ? goal_name : "");
        rows_.rows.back().emplace_back("sum");
    }

    [[nodiscard]] std::string sum_formula(const figure_summed& of, const rolled_sum& sum, std::size_t i) const {
        std::string parts;
        const auto differs = [&](std::size_t at) { return of_.ledgers[at].terms.unit != of_.unit; };
        const bool heft = std::any_of(sum.ledgers.begin(), sum.ledgers.end(), [&](std::size_t at) {
            return std::holds_alternative<weight>(of_.ledgers[at].report.figures[i].value);
        });
        if (heft && std::any_of(sum.ledgers.begin(), sum.ledgers.end(), differs))
            for (const auto at : sum.ledgers)
                parts += (parts.empty() ? "" : "+") +
                         converted_formula(letters_of(first_ledger + at) + "#", of_.ledgers[at], of_);
        else
            parts = fmt::format("SUM({})", cells_of(sum));
        if (heft || of.unit == "$") parts = fmt::format("ROUND({},{})", parts, heft ? 3 : 2);
        return of.reason.empty() ? "=" + parts
                                 : fmt::format(R"(=IF(COUNT({})<{},"",{}))", cells_of(sum), sum.ledgers.size(), parts);
    }
    /// The rate's own formula, its names replaced by this column's cells.
    [[nodiscard]] std::string rate_formula(const figure_summed& of, const rolled_sum& sum) const {
        const auto named = formula_of_rate(of.name).value();
        const auto column = letters_of(column_of(sum));
        const auto is_of_name = [](char c) { return (c >= 'a' && c <= 'z') || (c >= '0' && c <= '9') || c == '_'; };
        std::string formula;
        for (std::size_t at = 0; at < named.size();) {
            auto end = at;
            while (end < named.size() && is_of_name(named[end]))
                ++end;
            const auto word = std::string_view{named}.substr(at, end - at);
            if (const auto row = row_of_name_.find(word); row != row_of_name_.end())
                formula += fmt::format("{}{}", column, row->second);
            else
                formula += word;
            if (end == at) formula += named[end++];
            at = end;
        }
        return formula;
    }
};

} // namespace

void write_rollup_workbook(const std::string& path, const rollup& of) {
    std::vector<sheet_data> ledgers;
    for (const auto& each : of.ledgers)
        ledgers.push_back(ledger_sheet(each, of));
    std::vector<sheet_data> sheets{summary_filler{of, ledgers}.run(), ledgers_sheet(of)};
    for (auto& each : ledgers)
        sheets.push_back(std::move(each));
    sheets.push_back(notes_sheet(of));
    workbook_properties properties;
    properties.title = fmt::format("{}, side by side and summed", of.title());
    properties.subject = "Several ledgers in one report: awards, states or years";
    for (const auto& each : of.ledgers) {
        properties.created = std::max(properties.created, each.as_of.at);
        properties.custom.emplace_back(fmt::format("Ledger {} fingerprint", each.label), ledger::hex(each.as_of.hash));
    }
    properties.comments = "Each ledger's entry and fingerprint stand on the sheet Ledgers";
    write_sheets(path, std::move(properties), sheets);
}

} // namespace tarewell::render
