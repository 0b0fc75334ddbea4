#include "office/pages.hpp"

#include "ledger/database_url.hpp"
#include "office/built_in.hpp"
#include "render/forms.hpp"
#include "render/template_text.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

std::string text_of_file(std::string_view name) {
    for (const auto& each : ledger::office_files())
        if (each.name == name) return std::string{each.text};
    throw std::logic_error(fmt::format("there is no {}", name));
}

struct place {
    const char *path, *name;
};
constexpr place places[] = {{"/", "Today"},          {"/enter", "Enter"}, {"/sites", "Sites"}, {"/find", "Find"},
                            {"/quarter", "Quarter"}, {"/files", "Files"}, {"/audit", "Audit"}};

value links_to_places(const std::string& name) {
    auto links = value::array();
    for (const auto& each : places) {
        std::string small{each.name};
        small[0] = static_cast<char>(small[0] - 'A' + 'a');
        links.push_back({{"path", each.path}, {"name", each.name}, {"here", small == name}});
    }
    return links;
}

/// Which of the places a page belongs to.
std::string place_of(const std::string& name) {
    if (name == "form" || name == "register") return "enter";
    if (name == "site") return "sites";
    if (name == "record" || name == "merge") return "find";
    if (name == "flags") return "quarter";
    if (name == "working") return "audit";
    if (name == "sheet" || name == "acts" || name == "undo") return "files";
    return name;
}

} // namespace

response page(const state& of, const std::string& name, const std::string& title, value data, int status) {
    data["title"] = title;
    data["token"] = of.door.token();
    data["ledger"] = ledger::short_name_of(of.kept.path());
    data["who"] = of.around.who.empty() ? value{} : value{of.around.who};
    data["places"] = links_to_places(place_of(name));
    std::vector<std::pair<std::string, std::string>> parts;
    constexpr std::string_view prefix = "office_part_", ending = ".mustache";
    for (const auto& each : ledger::office_files())
        if (each.name.starts_with(prefix))
            parts.emplace_back(each.name.substr(0, each.name.size() - ending.size()), each.text);
    const auto file = fmt::format("office_{}.mustache", name);
    return {status, "text/html; charset=utf-8", render::fill_template(file, text_of_file(file), data, parts)};
}

response message(const state& of, int status, const std::string& title, const std::vector<std::string>& lines) {
    return page(of, "message", title, {{"lines", lines}}, status);
}

response stranger_page() {
    const std::string file{"office_stranger.mustache"};
    return {403, "text/html; charset=utf-8", render::fill_template(file, text_of_file(file), value::object(), {})};
}

std::string record_link(std::string_view kind, std::string_view id, std::string_view second) {
    auto link = fmt::format("/record?kind={}&id={}", in_query(kind), in_query(id));
    if (!second.empty()) link += "&second=" + in_query(second);
    return link;
}

void put_list(value& to, const std::string& name, value list) {
    const bool any = !list.empty();
    to[name] = std::move(list);
    to["any_" + name] = any;
}

response style_file() {
    const auto look = render::form_shelf{}.need("part_style").text;
    const auto from = look.find("<style>") + 7;
    return {200, "text/css; charset=utf-8",
            look.substr(from, look.find("</style>") - from) + text_of_file("office.css")};
}

response script_file() { return {200, "text/javascript; charset=utf-8", text_of_file("office.js")}; }

} // namespace tarewell::office
