#include "records/setting.hpp"

#include "records/fields.hpp"
#include "records/nearest_name.hpp"
#include "records/settings.hpp"

#include <fmt/format.h>

namespace tarewell::records {
namespace {

using a = fields_of<setting>;
constexpr field<setting> fields[] = {
    a::id<&setting::name>("setting").required(),
    a::date<&setting::from>("from"),
    a::text<&setting::value>("value").required(),
};

constexpr kind_info made() {
    auto info = kind_made<setting, fields, no_numbers<setting>>(
        {kind::setting, "setting", "settings", "setting", "from", "from", belongs::to_nothing});
    info.moves_all = true;
    return info;
}

bool is_value_of(setting_type type, std::string_view text) {
    if (type == setting_type::list) return true;
    const auto [value, fault] = quantity::read_decimal(text);
    return fault == quantity::decimal_fault::none && (type != setting_type::positive || value.mantissa > 0) &&
           (type != setting_type::amount || value.scale <= 2) && (type != setting_type::whole || value.scale == 0);
}

std::vector<std::string> setting_names() {
    std::vector<std::string> names;
    for (const auto& each : all_settings())
        names.emplace_back(each.name);
    return names;
}

} // namespace

constinit const kind_info setting_kind = made();
constinit const coded_kind setting_coded = coded_made<setting, fields, no_numbers<setting>>(kind::setting);

void check(const setting& made, const season& /*before*/, complaints& say) {
    const auto* known = find_setting(made.name);
    if (known == nullptr)
        say.say("setting", fmt::format("no setting is called {}", quoted(made.name)),
                "see: tarewell settings" + did_you_mean(made.name, setting_names()));
    else if (made.name == "report_due_dates" && !read_due_dates(made.value))
        say.say("value", fmt::format("{} is no list of dates in the year", quoted(made.value)),
                "months and days such as 04-30; 07-31; 10-31; 01-31");
    else if (made.name == "paper" && made.value != "letter" && made.value != "a4")
        say.say("value", fmt::format("{} is no size of paper", quoted(made.value)), "letter or a4");
    else if (!is_value_of(known->type, made.value))
        say.say("value", fmt::format("{} is no value of {}", quoted(made.value), made.name),
                fmt::format("a number such as {}", known->default_value));
}

void admit(setting&& made, season& to) { to.settings.push_back(std::move(made)); }

} // namespace tarewell::records
