// takes_a_season FOLDER LEDGER QUARTER FIGURE WORKBOOK: makes a ledger, takes a season's files in, prints a figure and
// the rows behind it, and writes the quarter's workbook.
#include <tarewell/figures/audit_figures.hpp>
#include <tarewell/figures/closing.hpp>
#include <tarewell/intake/intake.hpp>
#include <tarewell/render/forms.hpp>
#include <tarewell/render/layout_check.hpp>
#include <tarewell/render/workbook_writer.hpp>
#include <tarewell/version.hpp>

#include <cstdio>
#include <exception>
#include <iostream>
#include <random>

namespace {

using namespace tarewell;

std::string random_hex() {
    static std::random_device source;
    std::string text;
    for (int i = 0; i < 4; ++i) {
        char part[9];
        std::snprintf(part, sizeof part, "%08x", source());
        text += part;
    }
    return text;
}

void show(const figures::period_view& seen, const std::string& name) {
    const auto* figure = seen.report.find(name);
    if (figure == nullptr) throw records::input_error("there is no figure " + name);
    std::cout << name << ' ' << figures::text_of(figure->value) << ' ' << figure->unit << '\n';
    for (const auto& row : figures::evidence_of(name, seen.report.basis, seen.season, seen.reckoning))
        std::cout << "entry " << row.entry << " adds " << row.adds.value_or(0) << '\n';
}

void write_workbook(const std::string& path, const ledger::ledger_file& file, figures::period_view& seen) {
    figures::add_statistics(seen.report, seen.season, seen.reckoning);
    const auto& on = seen.report.basis;
    const auto head = file.head_at(on.as_of);
    const auto form = render::form_shelf{}.choose("quarter_summary.layout.toml", true).form;
    render::write_workbook(path, render::need_layout(form),
                           {seen.report,
                            seen.season,
                            seen.reckoning,
                            {ledger::hex(head.hash), head.at},
                            figures::adjustments(file, seen.season, seen.reckoning, on)});
}

void run(const std::string& folder, const std::string& path, const std::string& quarter, const std::string& figure,
         const std::string& workbook) {
    auto file = ledger::ledger_file::create(path);
    intake::take_season(file, folder, {[] { return "2026-10-01T08:00:00Z"; }, random_hex, "a program of its own"});
    const auto asked = quantity::read_quarter(quarter);
    if (!asked) throw records::input_error("a quarter is written as 2026-Q2");
    auto seen = figures::view_period(file, *asked, figures::as_of_period(file, *asked));
    show(seen, figure);
    write_workbook(workbook, file, seen);
}

} // namespace

int main(int count, char** given) {
    if (count != 6) {
        std::cerr << "tarewell " << version << ": takes_a_season FOLDER LEDGER QUARTER FIGURE WORKBOOK\n";
        return 2;
    }
    try {
        run(given[1], given[2], given[3], given[4], given[5]);
    } catch (const std::exception& failure) {
        std::cerr << failure.what() << '\n';
        return 1;
    }
    return 0;
}
