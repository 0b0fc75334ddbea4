#include "render/form_lists.hpp"

#include "render/form_names.hpp"
#include "render/layout_names.hpp"

namespace tarewell::render {

desk::answer forms_on(const form_shelf& shelf) {
    desk::answer made;
    made.data = desk::value::array();
    for (const auto& each : shelf.all()) {
        const char* kind = each.workbook ? "workbook" : "page";
        made.data.push_back(
            {{"form", each.name}, {"kind", kind}, {"sentence", each.sentence}, {"built_in", each.built_in}});
        made.say("{:<18}{:<10}{}{}\n", each.name, kind, each.sentence, each.built_in ? "" : " (yours)");
    }
    return made;
}

desk::answer names_a_form_may_use() {
    desk::answer made;
    made.data = desk::value::array();
    const auto add = [&](std::string_view name, std::string_view kind, std::string_view meaning) {
        made.data.push_back({{"name", name}, {"kind", kind}, {"meaning", meaning}});
        made.say("| {} | {} | {} |\n", name, kind, meaning);
    };
    for (const auto& each : form_name_lines())
        add(each.path, name_of(each.kind), each.meaning);
    for (const auto& each : layout_name_lines())
        add(each.name, each.kind, each.meaning);
    return made;
}

} // namespace tarewell::render
