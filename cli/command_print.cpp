#include "days.hpp"
#include "desk/paper.hpp"
#include "desk/paper_printed.hpp"
#include "ledger/database_url.hpp"
#include "names.hpp"
#include "render/paper_writer.hpp"
#include "report_writer.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

using records::kind;

struct options {
    std::string file, paper, stock, templates, on, since, site, to, grower;
    std::vector<std::string> registrations, bundles, bales;
    std::optional<int> start, blanks, next;
    bool again = false;
};

using make_sheet = desk::paper (*)(const desk::season_view& seen, const desk::paper_wanted& wanted);

/// What a sheet takes besides the file, paper, day and templates.
enum takes : unsigned {
    site = 1,
    to = 2,
    grower = 4,
    registration = 8,
    bundle = 16,
    bale = 32,
    next = 64,
    blank = 128,
    since = 256,
    stock = 512
};

struct sheet {
    const char *name, *what;
    make_sheet make;
    unsigned takes;
};

constexpr sheet sheets[] = {
    {"labels", "labels for bundles, 'name, 2 of 5' with a QR code: those waited for that have none yet",
     desk::bundle_labels, site | grower | registration | bundle | stock},
    {"bale-tags", "tags for bales: those not weighed, or the next ones to be pressed", desk::bale_tags,
     site | bale | next | stock},
    {"check-in", "for a site's hosts: the bundles expected there, to tick, and what to do when it is full",
     desk::check_in_sheet, site | blank},
    {"haul", "for a driver: the bundles on a site, to tick", desk::haul_sheet, site | to | blank},
    {"baler", "for the baler's crew: the bundles on its site, and which bale each goes into", desk::baler_sheet,
     site | next | blank},
    {"scale-log", "for the scale: bales not weighed, with room for gross, tare and net", desk::scale_log, site | blank},
    {"hours", "volunteers' hours, to sign", desk::hours_sheet, site | blank},
    {"mileage", "volunteers' miles, to sign", desk::mileage_sheet, site | blank},
    {"rejection", "a letter to each grower whose bundle was rejected lately: why, and what to do next",
     desk::rejection_notices, grower | bundle | since},
    {"pick-up", "what waits on which site, against its capacity, with host and hours", desk::pick_up_list, site},
};

std::optional<std::size_t> count_of(const std::optional<int>& given) {
    return given ? std::optional{static_cast<std::size_t>(*given)} : std::nullopt;
}

desk::paper_wanted wanted_of(const options& how, const ledger::ledger_file& file, const context& with) {
    desk::paper_wanted made;
    made.on = day_or_today(how.on, with);
    made.since = day_given("--since", how.since);
    made.blank_rows = count_of(how.blanks);
    made.next_bales = count_of(how.next);
    desk::look_up names{file};
    const auto one = [&](kind which, const std::string& said) {
        return said.empty() ? said : names.id_of(which, said);
    };
    made.site = one(kind::site, how.site);
    made.to = one(kind::site, how.to);
    made.grower = one(kind::grower, how.grower);
    const auto all = [&](kind which, const std::vector<std::string>& said, std::vector<std::string>& into) {
        for (const auto& each : said)
            into.push_back(names.id_of(which, each));
    };
    all(kind::cover, how.registrations, made.registrations);
    all(kind::bundle, how.bundles, made.bundles);
    all(kind::bale, how.bales, made.bales);
    tell_found(names, with);
    return made;
}

/// Where the office has said it once: what an option leaves out.
std::string said(const std::string& given, const desk::season_view& seen, const char* setting, desk::day on) {
    return given.empty() ? seen.season.setting_on(setting, on) : given;
}

render::paper_look look_of(const options& how, const sheet& of, const desk::season_view& seen, desk::day on,
                           const context& with) {
    render::paper_look made{how.file, with.templates_folder(how.templates),
                            render::paper_called(said(how.paper, seen, "paper", on))};
    if ((of.takes & stock) != 0) {
        const bool tags = (of.takes & bale) != 0; // four to a sheet of paper, for a sleeve
        made.stock =
            tags && how.stock.empty()
                ? render::read_label_stock(made.on.name == "a4" ? "98x142mm" : "4x5.25in 2x2 gaps 0x0", made.on)
                : render::read_label_stock(said(how.stock, seen, "label_stock", on), made.on);
    }
    made.program = seen.season.the_award ? seen.season.the_award->program : std::string{};
    made.contact = seen.season.setting_on("office_contact", on);
    made.printed_on = on;
    made.as_of = seen.as_of;
    return made;
}

void tell_written(const options& how, const desk::paper& made, const context& with) {
    with.out << fmt::format("wrote {}: {}, {}\n", how.file, made.title, desk::counted(made.rows(), "row", "rows"));
}

/// What stands beside a file stands, for a ledger in a database, in the person's own folder (XDG Base Directory
/// Specification, "state").
std::string place_beside(const context& with) {
    const auto ledger = with.path();
    if (!ledger::is_in_database(ledger)) return ledger;
    auto folder = std::filesystem::path{with.environment("XDG_STATE_HOME")};
    if (folder.empty()) folder = std::filesystem::path{with.environment("HOME")} / ".local" / "state";
    folder /= "tarewell";
    std::error_code failed;
    std::filesystem::create_directories(folder, failed);
    if (failed) throw records::io_error(fmt::format("{} could not be made: {}", folder.string(), failed.message()));
    constexpr std::size_t enough = 12;
    const auto which = ledger::hex(ledger::sha256{}.of(ledger)).substr(0, enough);
    return (folder / fmt::format("{}-{}", ledger::short_name_of(ledger), which)).string();
}

/// Labels: where the last ones ended, and which were printed, is kept beside the ledger.
void print_labels(const options& how, desk::paper_wanted wanted, render::paper_look look, const desk::season_view& seen,
                  const context& with) {
    const auto beside = place_beside(with);
    auto printed = desk::printed_labels::of(beside);
    if (!how.again) wanted.printed_before = printed.bundles;
    const auto made = desk::bundle_labels(seen, wanted);
    const auto stock_and_paper = fmt::format("{} on {}", look.stock.in_words, look.on.heading);
    look.first_label = how.start                          ? static_cast<std::size_t>(*how.start)
                       : printed.stock == stock_and_paper ? printed.next_label
                                                          : 1;
    if (!how.start && look.first_label > look.stock.on_a_sheet()) look.first_label = 1;
    const auto written = render::write_paper(made, look);
    if (written.sheets == 0) {
        tell_written(how, made, with);
    } else {
        with.out << fmt::format("wrote {}: {} on {} of {}, from label {} on; print it at 100 %\n", how.file,
                                desk::counted(made.rows(), "label", "labels"),
                                desk::counted(written.sheets, "sheet", "sheets"), look.stock.in_words,
                                look.first_label);
        with.out << fmt::format("the next print begins at label {} (--start 1 for a new sheet)\n", written.next_label);
        printed.stock = stock_and_paper;
        printed.next_label = written.next_label;
    }
    for (const auto& row : *made.pages[0].find("rows")->list())
        printed.bundles.insert(*row.find("id")->text());
    printed.keep(beside);
}

void print_sheet(const options& how, const sheet& of, const context& with) {
    auto file = with.open();
    const auto wanted = wanted_of(how, file, with);
    const desk::season_view seen{std::move(file)};
    auto look = look_of(how, of, seen, wanted.on, with);
    if (of.make == desk::bundle_labels) return print_labels(how, wanted, std::move(look), seen, with);
    look.first_label = static_cast<std::size_t>(how.start.value_or(1));
    const auto made = of.make(seen, wanted);
    render::write_paper(made, look);
    tell_written(how, made, with);
}

void add_sheet(const command& print, const sheet& of, context& with) {
    auto sub = print.add(of.name, of.what);
    auto& how = print.keep<options>();
    sub.value("OUT", how.file, "where to write it: a page to print, such as labels.html, or .csv for its rows as data")
        .required();
    const auto is = [&](unsigned what) { return (of.takes & what) != 0; };
    constexpr int most = 200;
    if (is(site)) sub.value("--site", how.site, "this site alone, by id or name");
    if (is(to)) sub.value("--to", how.to, "the site that it goes to; without, a line to write on");
    if (is(grower)) sub.value("--grower", how.grower, "this grower's, by id or name");
    if (is(registration))
        sub.value("--registration", how.registrations, "all of this registration, received or not").many();
    if (is(bundle)) sub.value("--bundle", how.bundles, "this bundle, whatever became of it").many();
    if (is(bale)) sub.value("--bale", how.bales, "this bale's").many();
    if (is(next)) sub.value("--next", how.next, "so many bales still to be pressed, by their ids").between(1, most);
    if (is(blank)) sub.value("--blank", how.blanks, "so many empty rows").between(0, most);
    if (is(since)) sub.value("--since", how.since, "rejected on this day or later (14 days back)");
    if (is(stock)) {
        sub.value("--stock", how.stock,
                  "the sheets of labels, such as '4x2in 2x5 margins 0.156x0.5 gaps 0.188x0': width x height, columns x "
                  "rows, left and upper margin, gaps (setting label_stock)");
        sub.value("--start", how.start, "the first free label of the first sheet, row after row").between(1, 400);
    }
    if (of.make == desk::bundle_labels) sub.flag("--again", how.again, "also those whose label was printed before");
    sub.value("--paper", how.paper, "letter or a4 (setting paper)").one_of({"letter", "a4"});
    sub.value("--on", how.on, "the day that it is for (today)");
    sub.value("--templates", how.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.does([&how, &of, &with] { print_sheet(how, of, with); });
}

/// A sheet that is a form of a quarter, too.
void add_form(const command& print, const char* name, const char* what, const char* form, kind about, context& with) {
    auto sub = print.add(name, what);
    auto& request = print.keep<quarter_form>();
    request.form = form;
    sub.value("OUT", request.file, "where to write it, such as letter.html").required();
    sub.value("--quarter", request.quarter, "such as 2026-Q3").required();
    if (about == kind::site)
        sub.value("--site", request.site, "the site, by id or name").required();
    else
        sub.value("--grower", request.grower, "the grower, by id or name").required();
    sub.flag("--names", request.with_names, "print growers' names beside their ids");
    sub.value("--templates", request.templates, "your folder of forms (or set TAREWELL_TEMPLATES)");
    sub.does([&request, &with] { write_form(request, with); });
}

} // namespace

void add_print(const command& program, context& with) {
    auto sub = program.add("print", "paper for the sites, the truck, the baler and the scale: labels, sheets, letters");
    sub.wants_subcommand();
    for (const auto& each : sheets)
        add_sheet(sub, each, with);
    add_form(sub, "thanks", "a page of thanks for a site's host", "site_thanks.mustache", kind::site, with);
    add_form(sub, "statement", "a grower's statement: bundles, claims and shares", "grower_statement.mustache",
             kind::grower, with);
}

} // namespace tarewell::cli
