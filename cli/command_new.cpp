#include "context.hpp"
#include "desk/next_award.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct options : desk::next_award {
    std::vector<std::string> without;
};

void run_new(options& how, context& with) {
    if (how.from.empty()) {
        ledger::ledger_file::create(how.file);
        with.out << "made an empty ledger: " << how.file << '\n';
        return;
    }
    for (const auto& each : how.without)
        (each == "growers" ? how.growers : how.maps) = false;
    with.print(desk::begin_next_award(how, with.writing()));
}

} // namespace

void add_new(const command& program, context& with) {
    auto sub = program.add("new", "make an empty ledger, or one for the next award with what an older one knows");
    auto& how = program.keep<options>();
    sub.value("FILE", how.file, "where to make it: a file, or an empty database (postgresql://HOST/DATABASE)")
        .required();
    auto from = sub.value("--from", how.from,
                          "an older ledger: its sites, scales, growers, settings and maps, and its award's terms where "
                          "they are not told here");
    for (const auto& column : records::info(records::kind::award).columns) {
        const std::string name{column.name};
        sub.handed_on(
               "--" + name, [&how, name](const std::string& value) { how.terms[name] = value; },
               "of the new award: " + what_it_takes(column))
            .needs(from);
    }
    sub.value("--without", how.without, "leave out the older ledger's growers or maps")
        .one_of({"growers", "maps"})
        .many()
        .one_at_a_time()
        .needs(from);
    sub.flag("--json", with.json, "JSON output").needs(from);
    sub.does([&how, &with] { run_new(how, with); });
}

} // namespace tarewell::cli
