#include "render/layout.hpp"

#include "figures/figure.hpp"

#include <set>

namespace tarewell::render {

std::vector<figure_place> figures_on(const layout_sheet& sheet) {
    std::set<std::string, std::less<>> named;
    for (const auto& group : sheet.groups)
        for (const auto& each : group.figures)
            named.insert(each.name.text);
    const std::vector<layout_group> all{{{}, {{{"*", 0}, {}}}, {}}};
    std::vector<figure_place> places;
    for (const auto& group : sheet.groups.empty() ? all : sheet.groups)
        for (const auto& [name, label] : group.figures) {
            if (!name.text.ends_with('*')) {
                places.push_back({group.heading, name.text, label});
                continue;
            }
            const auto beginning = std::string_view{name.text}.substr(0, name.text.size() - 1);
            for (const auto& each : figures::all_figure_names())
                if (each.name.starts_with(beginning) && named.emplace(each.name).second)
                    places.push_back({group.heading, std::string{each.name}, label});
        }
    return places;
}

std::string only_name_in(const std::string& text) {
    if (!text.starts_with("{{") || text.find("}}") != text.size() - 2) return {};
    return text.substr(2, text.size() - 4);
}

} // namespace tarewell::render
