#include "context.hpp"
#include "desk/quarter.hpp"
#include "reconcile/flags.hpp"
#include "records/nearest_name.hpp"

#include <algorithm>

namespace tarewell::cli {
namespace {

struct options {
    std::string quarter, code;
    bool codes = false;
};

void run_flags(const options& how, context& with) {
    if (how.codes) {
        with.out << desk::flag_codes().text();
        return;
    }
    const auto codes = reconcile::flag_codes();
    if (!how.code.empty() &&
        std::none_of(codes.begin(), codes.end(), [&](const auto& each) { return each.code == how.code; })) {
        std::vector<std::string> names;
        for (const auto& each : codes)
            names.emplace_back(each.code);
        throw records::input_error(fmt::format("no flag is called '{}'; see: tarewell flags --codes{}", how.code,
                                               records::did_you_mean(how.code, names)));
    }
    with.print(desk::flags_of(desk::season_view{with.open()}, how.quarter, how.code));
}

} // namespace

void add_flags(const command& program, context& with) {
    auto sub = program.add("flags", "what a reviewer would ask about (exit 1 when there is any)");
    auto& how = program.keep<options>();
    sub.value("--quarter", how.quarter, "only those of this quarter, year or span");
    sub.value("--code", how.code, "only this kind of flag");
    sub.flag("--codes", how.codes, "list the kinds of flag");
    sub.flag("--json", with.json, "JSON output");
    sub.does([&how, &with] { run_flags(how, with); });
}

} // namespace tarewell::cli
