#include "desk/award.hpp"

#include "days.hpp"

namespace tarewell::cli {

void add_award(const command& program, context& with) {
    auto sub = program.add("award", "the award's reports and money: what is due, budget lines, requests, rates");
    sub.wants_subcommand();
    const auto add = [&](const char* name, const char* what, auto answer_of) {
        auto asks = sub.add(name, what);
        auto& on = program.keep<std::string>();
        asks.value("--on", on, "as of this day (today when not given)");
        asks.flag("--json", with.json, "JSON output");
        asks.does([&on, answer_of, &with] {
            const auto day = day_or_today(on, with);
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
