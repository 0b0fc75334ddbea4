#include "desk/award.hpp"

#include "context.hpp"

namespace tarewell::cli {
namespace {

/// The day asked for, or today.
quantity::day asked_day(const std::string& on, const context& with) {
    if (on.empty()) return quantity::day_of(with.around.now().substr(0, 10));
    const auto read = quantity::read_day(on);
    if (!read) throw records::input_error(fmt::format("--on '{}' is no day; write it as 2026-07-30", on));
    return *read;
}

} // namespace

void add_award(const command& program, context& with) {
    auto sub = program.add("award", "the award's reports and money: what is due, budget lines, requests, rates");
    sub.wants_subcommand();
    const auto add = [&](const char* name, const char* what, auto answer_of) {
        auto asks = sub.add(name, what);
        auto& on = program.keep<std::string>();
        asks.value("--on", on, "as of this day (today when not given)");
        asks.flag("--json", with.json, "JSON output");
        asks.does([&on, answer_of, &with] {
            const auto day = asked_day(on, with);
            with.print(answer_of(desk::season_view{with.open()}, day));
        });
    };
    add("calendar", "reports with their due dates, and how long to keep records (exit 1 when one is late)",
        desk::award_calendar);
    add("budget", "budget lines against what was spent, and the running share of moves between them",
        desk::award_budget);
    add("requests", "reimbursement requests: claimed, paid, withheld, open; and costs not claimed yet",
        desk::award_requests);
    add("rates", "your table of in-kind rates, and national values to hold against it", desk::award_rates);
}

} // namespace tarewell::cli
