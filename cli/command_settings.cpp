#include "context.hpp"
#include "desk/keeping.hpp"

#include <ostream>

namespace tarewell::cli {
namespace {

struct set_options {
    std::string name, value, from, reason;
};

void run_set(const set_options& how, context& with) {
    auto file = with.open();
    const auto change = desk::keep_setting(file, how.name, how.from, how.value, how.reason, with.writing());
    with.out << (change.entries.empty() ? change.note : fmt::format("set by entry {}", change.entries.front())) << '\n';
}

} // namespace

void add_settings(const command& program, context& with) {
    auto sub = program.add("settings", "the program's own numbers and tolerances");
    sub.flag("--json", with.json, "JSON output");
    auto set = sub.add("set", "set a number or a list, from a day on or always");
    auto& how = program.keep<set_options>();
    set.value("NAME", how.name).required();
    set.value("VALUE", how.value).required();
    set.value("--from", how.from, "the day from which it holds; without it, always");
    set.value("--why", how.reason, "why");
    set.does([&how, &with] { run_set(how, with); });
    sub.does([&with] { with.print(desk::settings_of(desk::looked_at{with.open()})); });
}

} // namespace tarewell::cli
