#include "entering.hpp"

#include <algorithm>

namespace tarewell::cli {
namespace {

/// What people enter, by the name of its file; hours are in-kind contributions of that kind.
const records::kind_info* kind_entered(const std::string& name, desk::typed_values& fixed) {
    if (name == "hours") {
        fixed["kind"] = "hours";
        return &records::info(records::kind::inkind);
    }
    for (const auto& each : records::recorded_kinds())
        if (name == each.file || name == each.name) return &each;
    return nullptr;
}

std::vector<std::string> kinds_entered() {
    std::vector<std::string> names{"hours"};
    for (const auto& each : records::recorded_kinds())
        names.emplace_back(each.file);
    std::sort(names.begin(), names.end());
    return names;
}

} // namespace

void add_enter(const command& program, context& with) {
    auto sub =
        program.add("enter", "enter records one after the other, field by field, at a terminal: tickets, receipts, "
                             "bales, costs, hours, ...");
    struct how {
        std::string kind;
        bool all = false;
    };
    auto& what = sub.keep<how>();
    sub.value("KIND", what.kind, "what to enter").required().one_of(kinds_entered());
    sub.flag("--all", what.all, "ask for every field, also those that your records never give");
    sub.does([&what, &with] {
        if (!with.read_line)
            throw records::input_error("enter asks a person at a terminal; from a pipe or a file use `tarewell record` "
                                       "or `tarewell intake`");
        desk::typed_values fixed;
        const auto& kind = *kind_entered(what.kind, fixed);
        auto file = with.open();
        entering{with, file, kind.which, std::move(fixed), what.all}.run();
    });
}

} // namespace tarewell::cli
