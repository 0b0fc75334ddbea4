#include "context.hpp"
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
        const auto text = on.empty() ? with.around.now().substr(0, 10) : on;
        const auto day = quantity::read_day(text);
        if (!day) throw records::input_error(fmt::format("--on: '{}' is not a date; write a date as 2026-05-14", text));
        with.print(desk::due(desk::season_view{with.open()}, *day));
    });
}

} // namespace tarewell::cli
