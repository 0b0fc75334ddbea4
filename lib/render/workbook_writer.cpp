#include "render/workbook_writer.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::render {
namespace {

using figures::content;

constexpr double text_width = 96;              // of a column that holds sentences or a chart
constexpr std::uint32_t most_rows = 1'048'575; // a sheet's rows less its header

look look_of(content what) {
    switch (what) {
    case content::words:
        return look::unit;
    case content::date:
        return look::date;
    case content::number:
        return look::count;
    case content::heft:
        return look::weight;
    case content::dollars:
        return look::money;
    case content::ratio:
        return look::ratio;
    }
    return look::plain;
}

look total_look_of(content what) {
    return what == content::heft      ? look::total_weight
           : what == content::dollars ? look::total_money
                                      : look::total_count;
}

std::size_t characters(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

std::uint16_t narrow(std::size_t column) { return static_cast<std::uint16_t>(column); }

class writer {
  public:
    writer(workbook_file& book, const std::vector<sheet_data>& sheets, bool lean)
        : book_{book}, sheets_{sheets}, lean_{lean} {}

    void run() {
        for (std::size_t i = 0; i < sheets_.size(); ++i) {
            const auto& sheet = sheets_[i];
            begin(sheet);
            lines(sheet);
            if (sheet.kind == sheet_kind::charts) captions(sheet);
            if (sheet.source == nullptr) continue;
            headings(sheet);
            rows(sheet);
            totals(sheet);
            table(sheet, i);
            names(sheet);
            marks(sheet);
            charts(sheet);
        }
    }

  private:
    workbook_file& book_;
    const std::vector<sheet_data>& sheets_;
    const bool lean_;

    static std::uint32_t first_row(const sheet_data& of) { return of.header_row() + 1; }
    /// An empty table has one empty row.
    static std::uint32_t last_row(const sheet_data& of) {
        return of.header_row() + static_cast<std::uint32_t>(std::max<std::size_t>(of.rows.size(), 1));
    }

    static double width_of(const sheet_data& of, std::size_t column) {
        constexpr std::size_t enough_rows = 300, narrowest = 9, widest = 76, widest_text = 120, widest_note = 40;
        if (of.content_of(column) == content::date || of.content_of(column) == content::number) return 12;
        if (of.content_of(column) != content::words) return 14;
        std::size_t longest = std::min<std::size_t>(characters(of.columns[column].heading), 14);
        for (std::size_t r = 0; r < std::min(of.rows.size(), enough_rows); ++r)
            if (const auto* text = std::get_if<std::string>(&of.at(r, column)))
                longest = std::max(longest, characters(*text));
        if (column == 0) longest = std::max(longest, characters(of.total_label));
        if (column == 0 && of.quarter_total) longest = std::max(longest, characters(of.quarter_total->label));
        for (const auto& line : of.lines)
            if (column == 0) longest = std::max(longest, characters(line.label));
        const bool texts = of.kind == sheet_kind::method;
        const bool note = of.kind == sheet_kind::figures && column + 1 == of.columns.size();
        return static_cast<double>(std::clamp(longest + 2, narrowest,
                                              note    ? widest_note
                                              : texts ? widest_text
                                                      : widest));
    }

    /// Lines that a text takes in a column, broken between words.
    static int lines_of(const std::string& text, double width) {
        const auto room = static_cast<std::size_t>(width);
        int lines = 1;
        std::size_t used = 0;
        for (std::size_t at = 0; at < text.size();) {
            const auto end = std::min(text.find(' ', at), text.size());
            const auto word = characters(text.substr(at, end - at));
            if (used > 0 && used + 1 + word > room) ++lines, used = 0;
            used += word + (used > 0 ? 1 : 0);
            at = end + 1;
        }
        return lines;
    }

    static int header_lines(const sheet_data& of, const std::vector<double>& widths) {
        constexpr double filter_button = 2;
        int lines = 1;
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            lines = std::max(lines, lines_of(of.columns[c].heading, widths[c] - filter_button));
        return lines;
    }

    void begin(const sheet_data& of) {
        if (of.rows.size() > most_rows - 2 - of.header_row())
            throw records::input_error(
                fmt::format("the sheet {} would need {} rows and a workbook holds {}; the CSV and "
                            "JSON outputs have no such limit",
                            of.name, of.rows.size(), most_rows));
        sheet_setup setup{of.name, {}, std::nullopt, lean_, last_row(of)};
        if (of.source != nullptr) setup.header_row = of.header_row();
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            setup.widths.push_back(width_of(of, c));
        setup.header_lines = header_lines(of, setup.widths);
        setup.one_page = of.kind == sheet_kind::summary;
        if (setup.one_page) setup.header_lines = 1;
        setup.hidden = of.kind == sheet_kind::table && of.rows.empty();
        if (of.kind == sheet_kind::charts) setup.widths = {text_width, text_width};
        if (of.kind == sheet_kind::text) setup.widths = {28, text_width};
        book_.begin_sheet(setup);
    }

    void lines(const sheet_data& of) {
        std::uint32_t row = 0;
        if (!of.title.empty()) book_.text(row++, 0, of.title, look::title);
        const auto how = of.kind == sheet_kind::text ? look::wrapped : look::unit;
        for (const auto& each : of.lines) {
            if (how == look::wrapped) book_.lines_high(row, lines_of(each.text, text_width));
            book_.text(row, 0, each.label, look::label);
            if (each.day)
                book_.date(row, 1, *each.day, look::date_left);
            else
                book_.text(row, 1, each.text, how);
            if (!each.name.empty()) book_.name(each.name, range_of(of.name, row, row, 1));
            ++row;
        }
    }

    [[nodiscard]] look heading_look(const sheet_data& of, std::size_t column) const {
        if (of.content_of(column) != content::words) return look::heading_right;
        return column == 0 ? look::heading : look::heading_indented;
    }

    void headings(const sheet_data& of) {
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            book_.text(of.header_row(), narrow(c), of.columns[c].heading, heading_look(of, c));
    }

    void rows(const sheet_data& of) {
        for (std::size_t r = 0; r < of.rows.size(); ++r)
            row(of, r);
    }

    static look look_at(const sheet_data& of, std::size_t r, std::size_t c) {
        const auto* special = of.special_at(r, c);
        if (special != nullptr && special->how) return *special->how;
        const bool last_wraps =
            of.kind == sheet_kind::method || of.kind == sheet_kind::figures || of.kind == sheet_kind::tie_out;
        return last_wraps && c + 1 == of.columns.size() ? look::wrapped : look_of(of.content_of(c));
    }

    /// Sentences take several lines.
    static int lines_of_row(const sheet_data& of, std::size_t r) {
        constexpr double letters_in_a_width = 1.13; // a width is a digit's, and a letter is narrower
        int lines = 1;
        for (std::size_t c = 0; c < of.columns.size(); ++c) {
            if (look_at(of, r, c) == look::wrapped)
                lines = std::max(lines, lines_of(exact_text(of.at(r, c)), width_of(of, c) * letters_in_a_width));
        }
        return lines;
    }

    void row(const sheet_data& of, std::size_t r) {
        const auto number = static_cast<std::uint32_t>(first_row(of) + r);
        if (const auto lines = lines_of_row(of, r); lines > 1) book_.lines_high(number, lines);
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            put(number, narrow(c), of.at(r, c), of.special_at(r, c), look_at(of, r, c));
    }

    void put(std::uint32_t row, std::uint16_t column, const figures::cell& value, const special_cell* special,
             look how) {
        const auto number = number_in(value);
        if (special != nullptr && !special->formula.empty()) {
            auto formula = special->formula;
            for (auto at = formula.find('#'); at != std::string::npos; at = formula.find('#', at))
                formula.replace(at, 1, std::to_string(row + 1));
            if (number)
                book_.formula(row, column, formula, *number, how);
            else
                book_.formula(row, column, formula, exact_text(value), how);
        } else if (number) {
            book_.number(row, column, *number, how);
        } else if (const auto* day = std::get_if<quantity::day>(&value)) {
            book_.date(row, column, *day);
        } else if (const auto* text = std::get_if<std::string>(&value)) {
            book_.text(row, column, *text, how == look::unit && column == 0 ? look::plain : how);
        }
    }

    void table(const sheet_data& of, std::size_t number) {
        table_setup setup{fmt::format("Table{}_{}", number + 1, word_of(of.name)), of.header_row(), last_row(of), {}};
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            setup.columns.push_back({of.columns[c].heading, heading_look(of, c)});
        if (!lean_ && of.kind != sheet_kind::summary) book_.table(setup);
    }

    /// Totals stand below the table: a filter leaves them in sight, and they follow it. One that formulas refer to
    /// does not.
    void totals(const sheet_data& of) {
        if (of.total_label.empty()) return;
        const auto row = last_row(of) + 1;
        book_.text(row, 0, of.total_label, look::total_label);
        for (std::size_t c = 1; c < of.columns.size(); ++c) {
            if (!of.columns[c].total) continue;
            const auto what = of.content_of(c);
            const auto special = of.special_totals.find(c);
            const bool formula = special != of.special_totals.end() && !special->second.formula.empty();
            book_.formula(row, narrow(c),
                          formula
                              ? special->second.formula
                              : fmt::format("=ROUND(SUBTOTAL(109,{}),{})",
                                            range_of(of.name, first_row(of), last_row(of), narrow(c)), places_of(what)),
                          number_in(of.total_of(c)).value_or(0), total_look_of(what));
            if (special != of.special_totals.end() && !special->second.name.empty())
                book_.name(special->second.name, range_of(of.name, row, row, narrow(c)));
        }
        if (of.quarter_total) quarter_total(of, *of.quarter_total, row + 1);
    }

    void quarter_total(const sheet_data& of, const dated_total& total, std::uint32_t row) {
        const auto rows_of = [&](std::size_t column) {
            return range_of(of.name, first_row(of), last_row(of), narrow(column));
        };
        const auto date = [](quantity::day on) {
            const auto text = quantity::text_of(on); // 2026-07-01
            return fmt::format("DATE({},{},{})", text.substr(0, 4), text.substr(5, 2), text.substr(8, 2));
        };
        book_.text(row, 0, total.label, look::total_label);
        for (std::size_t c = 1; c < of.columns.size(); ++c) {
            if (!of.columns[c].total) continue;
            const auto what = of.content_of(c);
            book_.formula(
                row, narrow(c),
                fmt::format(R"(=ROUND(SUMIFS({0},{1},">="&{2},{1},"<="&{3}),{4}))", rows_of(c), rows_of(total.column),
                            date(total.days.from), date(total.days.to), places_of(what)),
                number_in(of.source->total(of.columns[c].index, total.rows)).value_or(0), total_look_of(what));
        }
    }

    static int places_of(content what) { return what == content::heft ? 3 : what == content::dollars ? 2 : 0; }

    /// "In-kind contributions" gives In_kind_contributions.
    static std::string word_of(const std::string& name) {
        std::string word;
        for (const char c : name)
            word += std::isalnum(static_cast<unsigned char>(c)) != 0 ? c : '_';
        return word;
    }

    void names(const sheet_data& of) {
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            if (!of.columns[c].range_name.empty())
                book_.name(of.columns[c].range_name, range_of(of.name, first_row(of), last_row(of), narrow(c)));
        for (const auto& [where, cell] : of.special) {
            const auto row = static_cast<std::uint32_t>(first_row(of) + where.first);
            if (!cell.name.empty()) book_.name(cell.name, range_of(of.name, row, row, narrow(where.second)));
        }
    }

    void marks(const sheet_data& of) {
        for (std::size_t c = 0; c < of.columns.size(); ++c)
            if (!of.columns[c].word_to_mark.empty())
                book_.mark_word(first_row(of), last_row(of), narrow(c), of.columns[c].word_to_mark);
    }

    [[nodiscard]] chart_setup setup_of(const shown_chart& of) const {
        const auto& drawn = sheets_[of.sheet];
        const auto first = static_cast<std::uint32_t>(first_row(drawn) + of.first_row);
        const auto range = [&](std::size_t column) {
            const auto last = static_cast<std::uint32_t>(first + of.row_count - 1);
            return range_of(drawn.name, first, last, narrow(column));
        };
        chart_setup setup{of.kind, of.title, of.alt, of.unit, drawn.columns[of.categories].heading, {}};
        setup.category_count = of.row_count;
        for (const auto& each : of.series) {
            setup.series.push_back({each.label, range(of.categories), range(each.column), drawn.name_of(each.column)});
            setup.whole = setup.whole && drawn.content_of(each.column) != content::ratio;
            for (std::size_t r = of.first_row; r < of.first_row + of.row_count; ++r)
                setup.most = std::max(setup.most, number_in(drawn.at(r, each.column)).value_or(0));
        }
        return setup;
    }

    /// Charts stand to the right of a narrow or long table, below a wide one: so it prints large enough to read.
    void charts(const sheet_data& of) {
        constexpr std::uint32_t rows_of_a_chart = 18;
        constexpr std::size_t narrow_table = 6, long_table = 60;
        const bool below = of.columns.size() > narrow_table && of.rows.size() <= long_table;
        auto row = below ? last_row(of) + 4 : of.header_row();
        for (const auto& each : of.charts) {
            auto setup = setup_of(each);
            setup.row = row;
            setup.column = narrow(below ? 0 : of.columns.size() + 1);
            book_.chart(setup);
            row += rows_of_a_chart;
        }
    }

    /// A sheet of charts: two beside each other, each below a sentence that says what it shows.
    void captions(const sheet_data& of) {
        constexpr std::uint32_t rows_of_a_chart = 19;
        for (std::size_t i = 0; i < of.charts.size(); ++i) {
            const auto row = static_cast<std::uint32_t>(of.header_row() + (i / 2) * rows_of_a_chart);
            if (i % 2 == 0) book_.lines_high(row, 2);
            book_.text(row, narrow(i % 2),
                       fmt::format("{} Its numbers: sheet {}.", of.charts[i].alt, sheets_[of.charts[i].sheet].name),
                       look::wrapped);
            auto setup = setup_of(of.charts[i]);
            setup.row = row + 1;
            setup.column = narrow(i % 2);
            book_.chart(setup);
        }
    }
};

} // namespace

void write_sheets(const std::string& path, workbook_properties properties, const std::vector<sheet_data>& sheets,
                  std::size_t rows_with_tables) {
    std::size_t rows = 0;
    for (const auto& each : sheets)
        rows += each.rows.size();
    properties.lean = rows > rows_with_tables;
    workbook_file book{path, properties};
    writer{book, sheets, properties.lean}.run();
    book.finish();
}

void write_workbook(const std::string& path, const layout& of, const page_input& input, std::size_t rows_with_tables) {
    const auto filled = fill_layout(of, input);
    const auto& award = *input.season.the_award;
    workbook_properties properties;
    properties.title = filled.title.empty()
                           ? fmt::format("{}, {}", award.program, quantity::title_of(input.report.basis.period))
                           : filled.title;
    properties.subject = fmt::format("{} Award {}", of.says, award.id);
    properties.comments =
        fmt::format("As of journal entry {}; ledger fingerprint {}", input.report.basis.as_of, input.marks.head_hash);
    properties.created = input.marks.as_of_at;
    properties.custom = {{"Ledger fingerprint", input.marks.head_hash},
                         {"As of entry", fmt::format("{}", input.report.basis.as_of)}};
    write_sheets(path, std::move(properties), filled.sheets, rows_with_tables);
}

} // namespace tarewell::render
