#include "days.hpp"
#include "desk/due.hpp"

namespace tarewell::cli {

void add_due(const command& program, context& with) {
    auto sub =
        program.add("due", "what the ledger waits for, what hurts most first, with the command that settles it; holds "
                           "growers' telephone numbers, so keep it in the office");
    auto& on = program.keep<std::string>();
    sub.value("--on", on, "the day to look from (today)");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&on, &with] {
        const auto day = day_or_today(on, with);
        with.print(desk::due(desk::season_view{with.open()}, day));
    });
}

} // namespace tarewell::cli
