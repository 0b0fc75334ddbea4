#include "context.hpp"
#include "intake/intake.hpp"
#include "records/season.hpp"
#include "records/settings.hpp"
#include "season_view.hpp"
#include "text_table.hpp"
#include "who.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>

namespace tarewell::cli {
namespace {

void run_show(bool as_json, context& with) {
    const auto seen = view(with);
    nlohmann::ordered_json list = nlohmann::ordered_json::array();
    text_table table{{"setting", "from", "value", "meaning"}};
    for (const auto& each : ledger::all_settings()) {
        const auto put = [&](const std::string& from, const std::string& value) {
            table.add({std::string{each.name}, from, value, std::string{each.meaning}});
            list.push_back({{"setting", each.name}, {"from", from}, {"value", value}, {"meaning", each.meaning}});
        };
        put("(default)", std::string{each.default_value});
        for (const auto& set : seen.season.settings)
            if (set.name == each.name) put(set.from ? quantity::text_of(*set.from) : "always", set.value);
    }
    if (as_json)
        with.out << list.dump(2) << '\n';
    else
        table.print(with.out);
}

struct set_options {
    std::string name, value, from, reason;
};

void run_set(const set_options& how, context& with) {
    auto file = with.open();
    intake::named_values values{{"setting", how.name}, {"value", how.value}, {"from", how.from}};
    bool known = false;
    file.for_each(ledger::kind::setting, file.head().seq, [&](const ledger::stored_row& stored) {
        known = known || (stored.values["setting"] == how.name && stored.values["from"] == how.from);
    });
    const auto change = known
                            ? intake::correct(file, ledger::kind::setting, {how.name, how.from}, {{"value", how.value}},
                                              how.reason.empty() ? "set anew" : how.reason, writing(with))
                            : intake::record(file, ledger::kind::setting, values, writing(with), {}, how.reason);
    with.out << (change.entries.empty() ? change.note : fmt::format("set by entry {}", change.entries.front())) << '\n';
}

} // namespace

void add_settings(const command& program, context& with) {
    auto sub = program.add("settings", "the program's own numbers and tolerances");
    auto& as_json = program.keep<bool>();
    sub.flag("--json", as_json, "for machines");
    auto set = sub.add("set", "set a number or a list, from a day on or always");
    auto& how = program.keep<set_options>();
    set.value("NAME", how.name).required();
    set.value("VALUE", how.value).required();
    set.value("--from", how.from, "the day from which it holds; without it, always");
    set.value("--why", how.reason, "why");
    set.does([&how, &with] { run_set(how, with); });
    sub.does([&as_json, &with] { run_show(as_json, with); });
}

} // namespace tarewell::cli
