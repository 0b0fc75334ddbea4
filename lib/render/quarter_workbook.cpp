#include "render/quarter_workbook.hpp"

#include "ledger/errors.hpp"
#include "render/figure_formulas.hpp"
#include "render/workbook_file.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <set>

namespace tarewell::render {
namespace {

using figures::cell;
using figures::content;
using figures::figure;
using figures::table;

constexpr std::uint32_t most_rows = 1'048'575; // a sheet's rows less its header

double as_double(quantity::weight value) { return quantity::nearest_double(value.count(), 1000); }
double as_double(quantity::money value) { return quantity::nearest_double(value.count(), 100); }

/// "In-kind" gives in_kind, for the names of ranges.
std::string word_of(const std::string& table_name) {
    std::string word;
    for (const char c : table_name)
        word += c == ' ' || c == '-' ? '_' : static_cast<char>(std::tolower(static_cast<unsigned char>(c)));
    return word;
}

look look_of(content what) {
    switch (what) {
    case content::words: return look::unit;
    case content::date: return look::date;
    case content::number: return look::count;
    case content::heft: return look::weight;
    case content::dollars: return look::money;
    case content::ratio: return look::ratio;
    }
    return look::plain;
}

look total_look_of(content what) {
    return what == content::heft ? look::total_weight : what == content::dollars ? look::total_money : look::total_count;
}

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(text.begin(), text.end(), [](char c) {
        return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U;
    }));
}

double width_of(const table& of, std::size_t column) {
    switch (of.columns[column].content) {
    case content::words: {
        constexpr std::size_t enough_rows = 300, narrowest = 9, widest = 76;
        std::size_t longest = std::min<std::size_t>(of.columns[column].heading.size(), 14);
        for (std::size_t r = 0; r < std::min(of.rows.size(), enough_rows); ++r)
            if (const auto* text = std::get_if<std::string>(&of.rows[r][column])) longest = std::max(longest, characters(*text));
        return static_cast<double>(std::clamp(longest + 2, narrowest, widest));
    }
    case content::date: return 11.5;
    case content::number: return 11;
    default: return 14;
    }
}

struct value_of_figure {
    std::optional<double> operator()(std::monostate) const { return std::nullopt; }
    std::optional<double> operator()(std::int64_t count) const { return static_cast<double>(count); }
    std::optional<double> operator()(quantity::weight value) const { return as_double(value); }
    std::optional<double> operator()(quantity::money value) const { return as_double(value); }
    std::optional<double> operator()(figures::real value) const { return value; }
};

look look_of(const figure& of) {
    if (std::holds_alternative<std::int64_t>(of.value)) return look::count;
    if (std::holds_alternative<quantity::weight>(of.value)) return look::weight;
    if (std::holds_alternative<quantity::money>(of.value) || of.unit == "$/ton") return look::money;
    return of.unit == "tons" ? look::tons : look::ratio;
}

class writer {
  public:
    writer(workbook_file& book, const figures::report& report, const std::vector<table>& tables,
           const ledger::season& season, const report_marks& marks)
        : book_{book}, report_{report}, tables_{tables}, s_{season}, marks_{marks} {}

    void run() {
        summary();
        for (const auto& each : tables_) sheet_of(each);
        indirect_base();
        method();
    }

  private:
    workbook_file& book_;
    const figures::report& report_;
    const std::vector<table>& tables_;
    const ledger::season& s_;
    const report_marks& marks_;

    [[nodiscard]] const ledger::award& award() const { return *s_.the_award; }

    std::uint32_t identity() {
        std::uint32_t row = 0;
        const auto days = report_.basis.days;
        const auto put = [&](const std::string& label, const std::string& value) {
            book_.text(row, 0, label, look::label);
            book_.text(row++, 1, value);
        };
        book_.text(row++, 0, fmt::format("{}: diversion and cost summary, {}", award().program,
                                         quantity::text_of(report_.basis.quarter)), look::title);
        put("Award", award().id);
        put("Agency", award().agency);
        for (const auto& [label, name, value] : {std::tuple{"Quarter from", "quarter_from", days.from},
                                                 std::tuple{"Quarter to", "quarter_to", days.to}}) {
            book_.text(row, 0, label, look::label);
            book_.name(name, range_of("Summary", row, row, 1));
            book_.date(row++, 1, value);
        }
        put("State", report_.basis.closed ? "closed" : "not closed");
        put("As of journal entry", fmt::format("{}, {}", report_.basis.as_of, marks_.as_of_at));
        put("Head hash of the ledger", marks_.head_hash);
        return row;
    }

    /// Once the award's indirect percent was amended, each percent has its own part of the base: the value is
    /// given without a formula, and Terms lists the amendments.
    [[nodiscard]] bool needs_amended_rates(const std::string& figure) const {
        return figure.starts_with("indirect_") &&
               std::any_of(s_.amendments.begin(), s_.amendments.end(), [&](const ledger::amendment& each) {
                   return each.indirect_percent && each.date <= report_.basis.days.to;
               });
    }

    void summary() {
        book_.begin_sheet({"Summary", {74, 20, 11, 30, 12, 44}, 8, false, 0});
        std::uint32_t row = identity();
        const char* const headings[] = {"Figure", "Value", "Unit", "Name", "Rows of evidence", "Note"};
        for (std::uint16_t c = 0; c < 6; ++c) book_.text(row, c, headings[c], look::heading);
        for (const auto& each : report_.figures) {
            ++row;
            book_.text(row, 0, each.meaning);
            const auto value = std::visit(value_of_figure{}, each.value);
            if (needs_amended_rates(each.name)) book_.number(row, 1, value.value_or(0), look_of(each));
            else book_.formula(row, 1, formula_of(each.name, s_.terms_on(report_.basis.days.to)), value, look_of(each));
            book_.text(row, 2, each.unit, look::unit);
            book_.text(row, 3, each.name);
            book_.number(row, 4, static_cast<double>(each.evidence.size()), look::count);
            book_.text(row, 5, each.reason);
            book_.name(each.name, range_of("Summary", row, row, 1));
        }
    }

    void put(std::uint32_t row, std::uint16_t column, const cell& value, content what) {
        struct visitor {
            workbook_file& book;
            std::uint32_t row;
            std::uint16_t column;
            look how;
            void operator()(std::monostate) const {}
            void operator()(const std::string& text) const { book.text(row, column, text, column == 0 ? look::plain : look::unit); }
            void operator()(quantity::day day) const { book.date(row, column, day); }
            void operator()(std::int64_t count) const { book.number(row, column, static_cast<double>(count), how); }
            void operator()(quantity::weight value) const { book.number(row, column, as_double(value), how); }
            void operator()(quantity::money value) const { book.number(row, column, as_double(value), how); }
            void operator()(figures::real value) const { book.number(row, column, value, how); }
        };
        std::visit(visitor{book_, row, column, look_of(what)}, value);
    }

    static double sum_of(const table& of, std::size_t column) {
        std::int64_t sum = 0;
        std::int64_t unit = 1;
        for (const auto& row : of.rows) {
            if (const auto* weight = std::get_if<quantity::weight>(&row[column])) sum += weight->count(), unit = 1000;
            else if (const auto* money = std::get_if<quantity::money>(&row[column])) sum += money->count(), unit = 100;
            else if (const auto* count = std::get_if<std::int64_t>(&row[column])) sum += *count;
        }
        return quantity::nearest_double(sum, unit);
    }

    void sheet_of(const table& of) {
        if (of.rows.size() > most_rows - 1)
            throw ledger::input_error(fmt::format("the sheet {} would need {} rows and a workbook holds {}; the CSV and "
                                                  "JSON outputs have no such limit", of.name, of.rows.size(), most_rows));
        sheet_setup setup{of.name, {}, 0, true, static_cast<std::uint32_t>(of.rows.size())};
        for (std::size_t c = 0; c < of.columns.size(); ++c) setup.widths.push_back(width_of(of, c));
        book_.begin_sheet(setup);
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            book_.text(0, static_cast<std::uint16_t>(c), of.columns[c].heading,
                       of.columns[c].content == content::words && c > 0 ? look::heading_indented
                       : of.columns[c].content == content::words        ? look::heading
                                                                        : look::heading_right);
        for (std::size_t r = 0; r < of.rows.size(); ++r)
            for (std::size_t c = 0; c < of.columns.size(); ++c)
                put(static_cast<std::uint32_t>(r + 1), static_cast<std::uint16_t>(c), of.rows[r][c], of.columns[c].content);
        totals(of);
    }

    void totals(const table& of) {
        // An empty table's ranges are its empty first row.
        const auto last = static_cast<std::uint32_t>(std::max<std::size_t>(of.rows.size(), 1));
        const auto total_row = last + 1;
        const bool any = std::any_of(of.columns.begin(), of.columns.end(), [](const auto& each) { return each.summed; });
        if (any) book_.text(total_row, 0, "Total", look::label);
        for (std::size_t c = 0; c < of.columns.size(); ++c) {
            const auto column = static_cast<std::uint16_t>(c);
            const auto name = word_of(of.name) + "_" + of.columns[c].name;
            book_.name(name, range_of(of.name, 1, last, column));
            if (!of.columns[c].summed) continue;
            const auto places = of.columns[c].content == content::heft ? 3 : of.columns[c].content == content::dollars ? 2 : 0;
            book_.formula(total_row, column, fmt::format("=ROUND(SUM({}),{})", name, places), sum_of(of, c),
                          total_look_of(of.columns[c].content));
        }
    }

    /// The award's terms, and what passes the limit in each subaward.
    void indirect_base() {
        book_.begin_sheet({"Terms and subawards", {46, 16, 20, 20, 20}, 0, false, 0});
        const char* const headings[] = {"Term", "Value", "Direct on grant to date", "Over the limit to date",
                                        "Over the limit before the quarter"};
        for (std::uint16_t c = 0; c < 5; ++c) book_.text(0, c, headings[c], look::heading);
        std::uint32_t row = 1;
        const auto term = [&](const char* label, const char* name, double value) {
            book_.text(row, 0, label);
            book_.number(row, 1, value, look::plain);
            book_.name(name, range_of("Terms and subawards", row, row, 1));
            ++row;
        };
        const auto real = [](const std::optional<quantity::decimal>& value) {
            return value ? quantity::nearest_double(value->mantissa, quantity::power_of_ten(value->scale)) : 0.0;
        };
        const bool pounds = award().unit == quantity::weight_unit::lb;
        term(pounds ? "Pounds in a ton" : "Kilograms in a ton of 2,000 lb", "unit_per_ton", pounds ? 2000 : 907.18474);
        const auto terms = s_.terms_on(report_.basis.days.to);
        term("Goal, tons", "goal_tons", real(terms.goal_tons));
        term("Match, percent", "match_percent", real(terms.match_percent));
        term("Indirect, percent", "indirect_percent", real(terms.indirect_percent));
        const auto limit_text = s_.setting_on("subaward_limit", report_.basis.days.to);
        term("Limit in each subaward, to date", "subaward_limit", real(quantity::decimal_of(limit_text)));
        const auto limit_before = s_.setting_on("subaward_limit", report_.basis.days.from - date::days{1});
        term("Limit in each subaward, before the quarter", "subaward_limit_before", real(quantity::decimal_of(limit_before)));
        const auto fee = s_.setting_on("tipping_fee_per_ton", report_.basis.days.to);
        term("Landfill fee, $ per ton", "tipping_fee_per_ton", real(quantity::decimal_of(fee)));
        for (const auto& each : s_.amendments) {
            book_.text(row, 0, fmt::format("Amendment {} of {}: {}", each.id, quantity::text_of(each.date), each.why));
            ++row;
        }
        subawards(row);
    }

    void subawards(std::uint32_t row) {
        std::set<std::string> names;
        for (const auto& cost : s_.costs)
            if (!cost.subaward.empty()) names.insert(cost.subaward);
        const auto first = row;
        const auto day_before = report_.basis.days.from - date::days{1};
        for (const auto& name : names) {
            book_.text(row, 0, "Subaward " + name);
            const auto to_date = subaward_sum(name, report_.basis.days.to);
            const auto before = subaward_sum(name, day_before);
            const auto over = [&](std::int64_t cents, quantity::day on) {
                const auto limit = quantity::money_from(quantity::decimal_of(s_.setting_on("subaward_limit", on)));
                return quantity::nearest_double(std::max<std::int64_t>(0, cents - limit.count()), 100);
            };
            book_.text(row, 1, name);
            book_.formula(row, 2, subaward_formula(row, "quarter_to"), quantity::nearest_double(to_date, 100), look::money);
            book_.formula(row, 3, fmt::format("=MAX(0,C{}-subaward_limit)", row + 1), over(to_date, report_.basis.days.to), look::money);
            book_.formula(row, 4, fmt::format("=MAX(0,{}-subaward_limit_before)", subaward_formula(row, "(quarter_from-1)").substr(1)),
                          over(before, day_before), look::money);
            ++row;
        }
        const auto last = std::max(first, row == first ? first : row - 1);
        book_.name("subawards_over_to_date_rows", range_of("Terms and subawards", first, last, 3));
        book_.name("subawards_over_before_rows", range_of("Terms and subawards", first, last, 4));
        over_total(std::max(row, first + 1), names);
    }

    void over_total(std::uint32_t row, const std::set<std::string>& names) {
        std::int64_t to_date = 0, before = 0;
        const auto day_before = report_.basis.days.from - date::days{1};
        const auto limit_on = [&](quantity::day on) {
            return quantity::money_from(quantity::decimal_of(s_.setting_on("subaward_limit", on))).count();
        };
        for (const auto& name : names) {
            to_date += std::max<std::int64_t>(0, subaward_sum(name, report_.basis.days.to) - limit_on(report_.basis.days.to));
            before += std::max<std::int64_t>(0, subaward_sum(name, day_before) - limit_on(day_before));
        }
        book_.text(row, 0, "Over the limit in all subawards", look::label);
        book_.formula(row, 3, "=ROUND(SUM(subawards_over_to_date_rows),2)", quantity::nearest_double(to_date, 100), look::total_money);
        book_.formula(row, 4, "=ROUND(SUM(subawards_over_before_rows),2)", quantity::nearest_double(before, 100), look::total_money);
        book_.name("subawards_over_to_date", range_of("Terms and subawards", row, row, 3));
        book_.name("subawards_over_before", range_of("Terms and subawards", row, row, 4));
    }

    [[nodiscard]] std::int64_t subaward_sum(const std::string& name, quantity::day last) const {
        std::int64_t sum = 0;
        for (const auto& cost : s_.costs)
            if (cost.subaward == name && cost.fund == ledger::fund::grant && cost.date <= last &&
                cost.category != "equipment" && cost.category != "indirect")
                sum += cost.amount.count();
        return sum;
    }

    static std::string subaward_formula(std::uint32_t row, const char* day) {
        return fmt::format(R"(=ROUND(SUMIFS(costs_amount,costs_fund,"grant",costs_category,"<>indirect",costs_category,"<>equipment",costs_subaward,B{},costs_date,"<="&{}),2))",
                           row + 1, day);
    }

    void method() {
        book_.begin_sheet({"Method", {28, 120}, 0, false, 0});
        book_.text(0, 0, "Sheet or word", look::heading);
        book_.text(0, 1, "What it says", look::heading);
        std::uint32_t row = 1;
        const auto put_note = [&](const std::string& what, const std::string& note) {
            book_.text(row, 0, what, look::label);
            book_.text(row++, 1, note, look::wrapped);
        };
        for (const auto& each : tables_) put_note(each.name, each.about);
        for (const auto& [what, note] : notes(award())) put_note(what, note);
    }

    static std::vector<std::pair<std::string, std::string>> notes(const ledger::award& award) {
        const std::string unit{quantity::name_of(award.unit)};
        return {
            {"Summary", "Every value is a formula over the evidence sheets, by their named ranges; recalculate the workbook to check "
                        "any of them. Filter an evidence sheet by its dates to see the rows behind a figure."},
            {"Weights", "In " + unit + ", in whole thousandths: what is shown is what is summed. A weight written in another unit was "
                        "converted exactly (1 lb = 0.45359237 kg) and rounded half up once. A ton is 2,000 lb."},
            {"Estimate", "What a grower's cover is claimed to weigh by its size, shared over the registration's bundles. The estimate is "
                         "a claim; the scale is the evidence."},
            {"Share of net", "A bale mixes growers and is weighed once. Its net is shared over its bundles: a bundle weighed alone keeps "
                             "that weight, the others share the rest by estimate, in whole thousandths that sum to the net."},
            {"Counted on", award.counted_when == ledger::counting::weighed
                               ? "Material counts as diverted on the day its bale is weighed; residue is taken off on its own day."
                           : award.counted_when == ledger::counting::shipped
                               ? "Material counts as diverted when its bale is both weighed and shipped; residue is taken off then or on its own day, whichever is later."
                               : "Material counts as diverted when the processor accepts it; what the processor rejects out of weighed bales is taken off."},
            {"Residue", "Weight rejected out of a bale on or after its weighing. It never passes the bale's net."},
            {"To date", "Everything in the ledger through the quarter's last day."},
            {"Indirect", "The award's percent of direct grant costs less equipment and less what passes the limit in each subaward."},
            {"Diversion", "Program diversion: farm film is outside the municipal recycling rate."},
            {"Flags", "Flagged is not left out: flagged rows count in every figure."},
            {"Note", "Prepared from a ledger that only grows. This workbook is not legal or accounting advice; the award's terms win."},
        };
    }
};

} // namespace

void write_quarter_workbook(const std::string& path, const figures::report& report, const std::vector<table>& tables,
                            const ledger::season& season, const report_marks& marks) {
    const auto& award = *season.the_award;
    workbook_properties properties;
    properties.title = fmt::format("{}, {}", award.program, quantity::text_of(report.basis.quarter));
    properties.subject = fmt::format("Diversion and cost summary, award {}", award.id);
    properties.comments = fmt::format("As of journal entry {}; ledger head {}", report.basis.as_of, marks.head_hash);
    properties.created = marks.as_of_at;
    properties.custom = {{"Ledger head", marks.head_hash}, {"As of entry", fmt::format("{}", report.basis.as_of)}};
    workbook_file book{path, properties};
    writer{book, report, tables, season, marks}.run();
    book.finish();
}

} // namespace tarewell::render
