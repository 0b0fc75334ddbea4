#include "reconcile/flags.hpp"
#include "season_view.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>
#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct options {
    std::string quarter, code;
    bool json = false, codes = false;
};

void print_codes(std::ostream& out) {
    for (const auto& each : reconcile::flag_codes())
        out << fmt::format("{:<24}{}{}\n", each.code, each.meaning, each.stops_closing ? " (stops closing)" : "");
}

json flag_json(const reconcile::flag& flag) {
    json rows = json::array();
    for (const auto& row : flag.rows)
        rows.push_back({{"kind", ledger::info(row.which).name}, {"entry", row.entry}});
    return {{"code", flag.code},
            {"subject", flag.subject},
            {"date", quantity::text_of(flag.on)},
            {"sentence", flag.sentence},
            {"stops_closing", reconcile::stops_closing(flag.code)},
            {"rows", std::move(rows)}};
}

void run_flags(const options& how, context& with) {
    if (how.codes) return print_codes(with.out);
    const auto codes = reconcile::flag_codes();
    if (!how.code.empty() &&
        std::none_of(codes.begin(), codes.end(), [&](const auto& each) { return each.code == how.code; }))
        throw ledger::input_error(fmt::format("no flag is called '{}'; see: tarewell flags --codes", how.code));
    const auto seen = view(with);
    auto flags = reconcile::flags_of(seen.season, seen.reckoning);
    if (!how.quarter.empty())
        flags = reconcile::flags_in(std::move(flags), seen.award().calendar().days_of(quarter_named(how.quarter)));
    if (!how.code.empty()) std::erase_if(flags, [&](const auto& flag) { return flag.code != how.code; });
    if (!flags.empty()) with.exit = findings;
    if (how.json) {
        json list = json::array();
        for (const auto& flag : flags)
            list.push_back(flag_json(flag));
        with.out << json{{"as_of", seen.as_of}, {"flags", std::move(list)}}.dump(2) << '\n';
        return;
    }
    std::string_view code;
    for (const auto& flag : flags) {
        if (flag.code != code) with.out << fmt::format("{}{}\n", code.empty() ? "" : "\n", flag.code);
        code = flag.code;
        with.out << fmt::format("  {}  {}\n", quantity::text_of(flag.on), flag.sentence);
    }
    with.out << fmt::format("{}{} {}; flagged rows count in every figure\n", flags.empty() ? "" : "\n", flags.size(),
                            flags.size() == 1 ? "flag" : "flags");
}

} // namespace

void add_flags(const command& program, context& with) {
    auto sub = program.add("flags", "what a reviewer would ask about (exit 1 when there is any)");
    auto& how = program.keep<options>();
    sub.value("--quarter", how.quarter, "only those of this quarter, such as 2026-Q3");
    sub.value("--code", how.code, "only this kind of flag");
    sub.flag("--codes", how.codes, "list the kinds of flag");
    sub.flag("--json", how.json, "for machines");
    sub.does([&how, &with] { run_flags(how, with); });
}

} // namespace tarewell::cli
