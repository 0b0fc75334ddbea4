#include "render/workbook_file.hpp"

#include "ledger/whole_file.hpp"
#include "records/errors.hpp"
#include "render/workbook_chart.hpp"
#include "render/workbook_check.hpp"

#include <fmt/format.h>
#include <xlsxwriter.h>

#include <ctime>
#include <filesystem>
#include <map>
#include <new>

namespace tarewell::render {
namespace {

namespace fs = std::filesystem;

std::time_t time_of(const std::string& utc) {
    std::tm parts{};
    if (utc.empty() || strptime(utc.c_str(), "%Y-%m-%dT%H:%M:%SZ", &parts) == nullptr) return 0;
    return timegm(&parts);
}

constexpr double line_height = 15.5; // points
constexpr lxw_color_t ink = 0x1D2420, header_tint = 0xE4EBE6, mark_tint = 0xF6DFC8, mark_ink = 0x7A3310;

void style(lxw_format* format, look how) {
    const auto number_format = [&](const char* text) { format_set_num_format(format, text); };
    format_set_align(format, LXW_ALIGN_VERTICAL_TOP); // a row may be several lines high
    switch (how) {
    case look::plain:
        break;
    case look::heading:
    case look::heading_indented:
    case look::heading_right:
        if (how == look::heading_indented) format_set_indent(format, 1);
        if (how == look::heading_right) format_set_align(format, LXW_ALIGN_RIGHT);
        format_set_bold(format);
        format_set_text_wrap(format);
        format_set_bottom(format, LXW_BORDER_THIN);
        format_set_bg_color(format, header_tint);
        format_set_font_color(format, ink);
        break;
    case look::title:
        format_set_bold(format);
        format_set_font_size(format, 14);
        break;
    case look::label:
        format_set_bold(format);
        break;
    case look::total_label:
        format_set_bold(format);
        format_set_top(format, LXW_BORDER_THIN);
        break;
    case look::difference:
        format_set_align(format, LXW_ALIGN_RIGHT);
        break;
    case look::wrapped:
        format_set_indent(format, 1);
        format_set_text_wrap(format);
        break;
    case look::unit:
        format_set_indent(format, 1);
        break;
    case look::date_left:
        number_format("yyyy-mm-dd");
        format_set_align(format, LXW_ALIGN_LEFT);
        format_set_indent(format, 1);
        break;
    case look::date:
        number_format("yyyy-mm-dd");
        break;
    case look::count:
        number_format("#,##0");
        break;
    case look::weight:
        number_format("#,##0.000");
        break;
    case look::money:
        number_format("#,##0.00;[Red]-#,##0.00");
        break;
    case look::ratio:
        number_format("0.0000");
        break;
    case look::percent:
        number_format("0.0%");
        break;
    case look::tons:
        number_format("#,##0.0000");
        break;
    case look::total_weight:
    case look::total_money:
    case look::total_count:
        number_format(how == look::total_weight ? "#,##0.000" : how == look::total_money ? "#,##0.00" : "#,##0");
        format_set_bold(format);
        format_set_top(format, LXW_BORDER_THIN);
        break;
    }
}

/// More than libxlsxwriter takes for one row, or for putting the finished parts together.
constexpr std::size_t memory_for_a_step = 4U << 20U;

/// libxlsxwriter leaves out what it gets no memory for, and says nothing, or falls over. So memory is got for it
/// before each step, or std::bad_alloc thrown. malloc keeps a freed block in hand from the second time on.
void have_memory(int times = 1) {
    for (int i = 0; i < times; ++i)
        ::operator delete(::operator new(memory_for_a_step));
}

struct give_back {
    void operator()(void* memory) const { ::operator delete(memory); }
};

} // namespace

struct workbook_file::implementation {
    ledger::whole_file target;
    /// Held back for closing the book when all other memory has run out.
    std::unique_ptr<void, give_back> for_the_end{::operator new(memory_for_a_step)};
    fs::path temporary_folder;
    lxw_workbook* book = nullptr;
    lxw_worksheet* sheet = nullptr;
    std::map<look, lxw_format*> formats;
    std::vector<expected_sheet> written;
    std::optional<std::uint32_t> header_row;
    bool header_is_high = false;
    int header_lines = 2;
    lxw_format* marked = nullptr;

    explicit implementation(const std::string& path) : target{path} {}

    void must(lxw_error outcome) const {
        if (outcome == LXW_NO_ERROR) return;
        if (outcome == LXW_ERROR_MEMORY_MALLOC_FAILED) throw std::bad_alloc{};
        throw records::io_error(fmt::format("{} could not be written: {}", target.path(), lxw_strerror(outcome)));
    }
    void cell(lxw_error outcome) {
        must(outcome);
        ++written.back().cells;
    }
    void row_seen(std::uint32_t row) {
        if (header_row && row == *header_row && !header_is_high) {
            // Fixed, since a wrapped row does not grow by itself everywhere.
            must(worksheet_set_row(sheet, row, line_height * header_lines, nullptr));
            header_is_high = true;
        }
        auto& last = written.back();
        if (last.rows == 0 || row != last.last_row) {
            have_memory();
            ++last.rows;
        }
        last.last_row = row;
    }
    lxw_format* format(look how) {
        auto& found = formats[how];
        if (found == nullptr) {
            found = workbook_add_format(book);
            style(found, how);
        }
        return found;
    }
};

workbook_file::workbook_file(const std::string& target, const workbook_properties& properties)
    : inside_{std::make_unique<implementation>(target)} {
    // The temporary files stand beside the target: a full temporary folder elsewhere would cut a sheet short
    // without an error.
    inside_->temporary_folder = fs::absolute(inside_->target.partial()).parent_path();
    std::string folder = inside_->temporary_folder.string();
    lxw_workbook_options options{};
    options.constant_memory = properties.lean ? LXW_TRUE : LXW_FALSE;
    options.tmpdir = folder.data();
    have_memory(2);
    inside_->book = workbook_new_opt(inside_->target.partial().c_str(), &options);
    if (inside_->book == nullptr) throw records::io_error(target + " could not be begun: memory ran out");
    // libxlsxwriter wants texts that it may write to, and copies them.
    std::string title = properties.title, subject = properties.subject, comments = properties.comments;
    std::string author = "Tarewell";
    lxw_doc_properties document{};
    document.title = title.data();
    document.subject = subject.data();
    document.comments = comments.data();
    document.author = author.data();
    document.created = time_of(properties.created);
    inside_->must(workbook_set_properties(inside_->book, &document));
    for (const auto& [key, value] : properties.custom)
        inside_->must(workbook_set_custom_property_string(inside_->book, key.c_str(), value.c_str()));
}

workbook_file::~workbook_file() {
    if (inside_ == nullptr || inside_->book == nullptr) return;
    // Frees what libxlsxwriter holds; what it may write is removed with the partial file.
    inside_->for_the_end.reset();
    workbook_close(inside_->book);
}

void workbook_file::begin_sheet(const sheet_setup& setup) {
    have_memory();
    auto* sheet = workbook_add_worksheet(inside_->book, setup.name.c_str());
    if (sheet == nullptr) throw records::io_error("the sheet " + setup.name + " could not be begun");
    inside_->sheet = sheet;
    inside_->written.push_back({setup.name, 0, 0, 0});
    for (std::size_t i = 0; i < setup.widths.size(); ++i) {
        const auto column = static_cast<lxw_col_t>(i);
        inside_->must(worksheet_set_column(sheet, column, column, setup.widths[i], nullptr));
    }
    inside_->header_row = setup.header_row;
    inside_->header_is_high = false;
    inside_->header_lines = setup.header_lines;
    if (!setup.one_page) worksheet_set_landscape(sheet);
    worksheet_fit_to_pages(sheet, 1, setup.one_page ? 1 : 0);
    if (setup.hidden) worksheet_hide(sheet);
    worksheet_set_footer(sheet, "&L&F&C&A&Rpage &P of &N");
    if (!setup.header_row) return;
    worksheet_freeze_panes(sheet, *setup.header_row + 1, 0);
    worksheet_repeat_rows(sheet, *setup.header_row, *setup.header_row);
    if (setup.filter && setup.last_row > *setup.header_row)
        worksheet_autofilter(sheet, *setup.header_row, 0, setup.last_row,
                             static_cast<lxw_col_t>(setup.widths.size() - 1));
}

void workbook_file::lines_high(std::uint32_t row, int lines) {
    inside_->must(worksheet_set_row(inside_->sheet, row, line_height * lines, nullptr));
}

void workbook_file::text(std::uint32_t row, std::uint16_t column, const std::string& value, look how) {
    if (value.empty()) return;
    inside_->row_seen(row);
    inside_->cell(worksheet_write_string(inside_->sheet, row, column, value.c_str(),
                                         inside_->format(how)));
}

void workbook_file::number(std::uint32_t row, std::uint16_t column, double value, look how) {
    inside_->row_seen(row);
    inside_->cell(worksheet_write_number(inside_->sheet, row, column, value, inside_->format(how)));
}

void workbook_file::date(std::uint32_t row, std::uint16_t column, quantity::day value, look how) {
    // A workbook's day 0 is 1899-12-30.
    const auto zero = date::sys_days{date::year{1899} / 12 / 30};
    const auto serial = (value - zero).count();
    constexpr int first_day_it_can_show = 61; // 1900-03-01, after the leap day that never was
    if (serial < first_day_it_can_show) {
        text(row, column, quantity::text_of(value));
        return;
    }
    number(row, column, static_cast<double>(serial), how);
}

void workbook_file::formula(std::uint32_t row, std::uint16_t column, const std::string& formula, double value,
                            look how) {
    inside_->row_seen(row);
    inside_->cell(
        worksheet_write_formula_num(inside_->sheet, row, column, formula.c_str(), inside_->format(how), value));
}

void workbook_file::formula(std::uint32_t row, std::uint16_t column, const std::string& formula,
                            const std::string& value, look how) {
    inside_->row_seen(row);
    inside_->cell(
        worksheet_write_formula_str(inside_->sheet, row, column, formula.c_str(), inside_->format(how), value.c_str()));
}

void workbook_file::table(const table_setup& setup) {
    auto name = setup.name;
    std::vector<std::string> headings;
    std::vector<lxw_table_column> columns(setup.columns.size());
    for (const auto& each : setup.columns)
        headings.push_back(each.heading);
    std::vector<lxw_table_column*> pointers;
    for (std::size_t i = 0; i < columns.size(); ++i) {
        columns[i].header = headings[i].data();
        columns[i].header_format = inside_->format(setup.columns[i].heading_look);
        pointers.push_back(&columns[i]);
    }
    pointers.push_back(nullptr);
    lxw_table_options options{};
    options.name = name.data();
    options.style_type = LXW_TABLE_STYLE_TYPE_LIGHT;
    options.style_type_number = 1;
    options.columns = pointers.data();
    inside_->must(worksheet_add_table(inside_->sheet, setup.first_row, 0, setup.last_row,
                                      static_cast<lxw_col_t>(columns.size() - 1), &options));
    ++inside_->written.back().tables;
}

void workbook_file::mark_word(std::uint32_t first_row, std::uint32_t last_row, std::uint16_t column,
                              const std::string& word) {
    if (inside_->marked == nullptr) {
        inside_->marked = workbook_add_format(inside_->book);
        format_set_bold(inside_->marked);
        format_set_font_color(inside_->marked, mark_ink);
        format_set_bg_color(inside_->marked, mark_tint);
    }
    auto text = '"' + word + '"';
    lxw_conditional_format rule{};
    rule.type = LXW_CONDITIONAL_TYPE_CELL;
    rule.criteria = LXW_CONDITIONAL_CRITERIA_EQUAL_TO;
    rule.value_string = text.data();
    rule.format = inside_->marked;
    inside_->must(worksheet_conditional_format_range(inside_->sheet, first_row, column, last_row, column, &rule));
}

void workbook_file::chart(const chart_setup& setup) {
    auto* chart = new_chart(inside_->book, setup);
    if (chart == nullptr) throw records::io_error(inside_->target.path() + " could not be written: memory ran out");
    auto alt = setup.alt;
    constexpr double own_width = 480, own_height = 288; // pixels of a chart that is not scaled
    lxw_chart_options options{};
    options.x_offset = options.y_offset = 4;
    options.x_scale = setup.width / own_width;
    options.y_scale = setup.height / own_height;
    options.description = alt.data();
    inside_->must(worksheet_insert_chart_opt(inside_->sheet, setup.row, setup.column, chart, &options));
    ++inside_->written.back().charts;
}

void workbook_file::name(const std::string& name, const std::string& reference) {
    have_memory();
    inside_->must(workbook_define_name(inside_->book, name.c_str(), ("=" + reference).c_str()));
}

void workbook_file::finish() {
    have_memory();
    auto* book = inside_->book;
    inside_->book = nullptr;
    inside_->must(workbook_close(book));
    check_workbook(inside_->target.partial(), inside_->written);
    inside_->target.put_in_place();
}

std::string range_of(const std::string& sheet, std::uint32_t first_row, std::uint32_t last_row, std::uint16_t column) {
    char letters[LXW_MAX_COL_NAME_LENGTH];
    lxw_col_to_name(letters, column, 1);
    std::string quoted; // an apostrophe inside is written twice
    for (const char c : sheet)
        quoted += c == '\'' ? std::string(2, c) : std::string(1, c);
    if (first_row == last_row) return fmt::format("'{}'!{}${}", quoted, letters, first_row + 1);
    return fmt::format("'{}'!{}${}:{}${}", quoted, letters, first_row + 1, letters, last_row + 1);
}

} // namespace tarewell::render
