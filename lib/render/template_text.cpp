#include "render/template_text.hpp"

#include "records/errors.hpp"
#include "render/svg_canvas.hpp"

#include <fmt/format.h>
#include <kainjow/mustache.hpp>

#include <algorithm>

namespace tarewell::render {
namespace {

namespace mustache = kainjow::mustache;
using desk::value;

mustache::data data_of(const value& from) {
    if (const auto* text = from.text()) return mustache::data{*text};
    if (const auto* yes = from.yes_or_no()) return mustache::data{*yes};
    if (const auto* all = from.list()) {
        mustache::list items;
        items.reserve(all->size());
        for (const auto& each : *all)
            items.push_back(data_of(each));
        return mustache::data{items};
    }
    if (const auto* fields = from.named()) {
        mustache::data group{mustache::data::type::object};
        for (const auto& [name, inner] : *fields)
            group.set(name, data_of(inner));
        return group;
    }
    if (from.is_null()) return mustache::data{false}; // missing text: its section is left out
    return mustache::data{from.json(false)};
}

} // namespace

std::string said_outside_tags(const quantity::period& of, std::string_view text) {
    std::string said;
    while (!text.empty()) {
        const auto tag = std::min(text.find("{{"), text.size());
        said += said_of(of, text.substr(0, tag));
        text.remove_prefix(tag);
        const auto end = text.find("}}");
        const auto after = end == std::string_view::npos ? text.size() : end + 2;
        said += text.substr(0, after);
        text.remove_prefix(after);
    }
    return said;
}

std::string after_comment(const std::string& text) {
    if (!text.starts_with("{{!")) return text;
    const auto end = text.find("}}") + 2;
    return text.substr(std::min(text.find_first_not_of("\r\n", end), text.size()));
}

std::string fill_template(const std::string& name, const std::string& text, const value& with,
                          const std::vector<std::pair<std::string, std::string>>& parts) {
    auto data = data_of(with);
    for (const auto& [part, of] : parts)
        data.set(part, mustache::data{after_comment(of)});
    mustache::mustache page{after_comment(text)};
    page.set_custom_escape([](const std::string& of) { return escaped(of); });
    auto made = page.render(data);
    if (!page.is_valid()) throw records::input_error(fmt::format("{}: {}", name, page.error_message()));
    return made;
}

} // namespace tarewell::render
