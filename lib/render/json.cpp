#include "render/json.hpp"

#include <nlohmann/json.hpp>

namespace tarewell::render {

nlohmann::ordered_json json_of(const figures::value& value) {
    if (const auto* count = std::get_if<std::int64_t>(&value)) return *count;
    if (const auto* real = std::get_if<figures::real>(&value)) return *real;
    if (std::holds_alternative<std::monostate>(value)) return nullptr;
    return figures::text_of(value);
}

std::string json_text(const figures::report& report) {
    nlohmann::ordered_json whole;
    whole["quarter"] = quantity::text_of(report.basis.quarter);
    whole["from"] = quantity::text_of(report.basis.days.from);
    whole["to"] = quantity::text_of(report.basis.days.to);
    whole["as_of"] = report.basis.as_of;
    whole["closed"] = report.basis.closed;
    auto& list = whole["figures"] = nlohmann::ordered_json::array();
    for (const auto& figure : report.figures) {
        nlohmann::ordered_json each;
        each["name"] = figure.name;
        each["value"] = json_of(figure.value);
        each["unit"] = figure.unit;
        each["evidence"] = figure.rows;
        if (!figure.reason.empty()) each["reason"] = figure.reason;
        list.push_back(std::move(each));
    }
    return whole.dump(2) + "\n";
}

} // namespace tarewell::render
