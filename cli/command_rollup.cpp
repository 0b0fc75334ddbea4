#include "closing.hpp"
#include "context.hpp"
#include "desk/rollup.hpp"
#include "render/rollup_page.hpp"
#include "render/rollup_workbook.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct options {
    std::vector<std::string> ledgers;
    std::string quarter, unit, workbook, page;
};

void run_rollup(const options& how, context& with) {
    if (!with.ledger_path.empty())
        throw records::input_error("rollup takes all its ledgers by their place; name " + with.ledger_path +
                                   " there and leave --ledger out");
    desk::rollup_request what{how.ledgers, how.quarter, quantity::read_weight_unit(how.unit)};
    if (with.talk_on_terminal && how.ledgers.size() > 1)
        what.progress = [&](std::size_t read) {
            with.err << fmt::format("\r{} of {} ledgers read", read, how.ledgers.size())
                     << (read == how.ledgers.size() ? "\n" : "") << std::flush;
        };
    const auto made = desk::roll_up(what);
    if (!how.workbook.empty()) render::write_rollup_workbook(how.workbook, made);
    if (!how.page.empty()) render::write_rollup_page(how.page, made);
    const bool wrote = !how.workbook.empty() || !how.page.empty();
    if (with.json || !wrote) return with.print(desk::told(made));
    for (const auto& file : {how.workbook, how.page})
        if (!file.empty()) with.out << fmt::format("wrote {}: {}, side by side and summed\n", file, made.title());
}

} // namespace

void add_rollup(const command& program, context& with) {
    auto sub = program.add("rollup", "several ledgers side by side and summed: awards, states or years in one report");
    auto& how = program.keep<options>();
    constexpr int most = 10'000;
    sub.value("LEDGERS", how.ledgers, "the ledgers' files, or databases").required().words(1, most);
    sub.value("--quarter", how.quarter, one_of_periods).required();
    sub.value("--unit", how.unit, "what weights are summed in (the first ledger's unit)").one_of({"lb", "kg"});
    sub.value("--workbook", how.workbook, "a workbook to write: the sums as formulas, and a sheet for each ledger");
    sub.value("--page", how.page, "an HTML file to write");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_rollup(how, with); });
}

} // namespace tarewell::cli
