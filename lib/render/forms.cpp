#include "render/forms.hpp"

#include "records/nearest_name.hpp"
#include "render/built_in_forms.hpp"
#include "render/layout_check.hpp"
#include "render/layout_reader.hpp"
#include "render/page_data.hpp"
#include "render/template_text.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>
#include <map>

namespace tarewell::render {
namespace {

namespace fs = std::filesystem;

constexpr std::string_view ending = ".mustache", layout_ending = ".layout.toml", part_prefix = "part_",
                           sheet_prefix = "paper_", rollup_prefix = "rollup_";

bool is_plain_word(const std::string& name) {
    return !name.empty() && std::all_of(name.begin(), name.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '_' || c == '-';
    });
}

/// The first line of the comment that a form begins with.
std::string sentence_of(std::string_view text) {
    if (!text.starts_with("{{!")) return "no sentence: begin the form with {{! what it is }}";
    text.remove_prefix(3);
    text = text.substr(0, std::min(text.find("}}"), text.size()));
    const auto from = text.find_first_not_of(" \n\r\t");
    if (from == std::string_view::npos) return {};
    text.remove_prefix(from);
    return std::string{text.substr(0, text.find_first_of("\r\n"))};
}

/// What a layout says that it is.
std::string says_of(const std::string& text) {
    const auto says = read_layout(text).made.says;
    return says.empty() ? R"(no sentence: begin the layout with says = "what it is")" : says;
}

} // namespace

form_shelf::form_shelf(std::string folder) : folder_{std::move(folder)} {
    if (!folder_.empty() && !fs::is_directory(folder_))
        throw records::io_error(fmt::format("there is no folder of templates {}", folder_));
}

std::vector<form_shelf::listed> form_shelf::all() const {
    std::map<std::pair<std::string, bool>, listed> found;
    const auto add = [&](const std::string& file, std::string_view text, bool built_in) {
        const bool workbook = file.ends_with(layout_ending);
        if ((!workbook && !file.ends_with(ending)) || file.starts_with(part_prefix)) return;
        // The look of a printed sheet, or of many ledgers together: no form of a quarter.
        if (file.starts_with(sheet_prefix) || file.starts_with(rollup_prefix)) return;
        const auto name = file.substr(0, file.size() - (workbook ? layout_ending : ending).size());
        found[{name, workbook}] = {name, workbook ? says_of(std::string{text}) : sentence_of(text), built_in, workbook};
    };
    for (const auto& each : ledger::template_files())
        add(std::string{each.name}, each.text, true);
    if (!folder_.empty())
        for (const auto& each : fs::directory_iterator{folder_})
            if (each.is_regular_file())
                add(each.path().filename().string(), form_in_file(each.path().string()).text, false);
    std::vector<listed> forms;
    for (auto& [key, form] : found)
        forms.push_back(std::move(form));
    return forms;
}

std::optional<form_text> form_shelf::find_file(const std::string& file) const {
    if (!folder_.empty())
        if (const auto path = fs::path{folder_} / file; fs::exists(path)) return form_in_file(path.string());
    for (const auto& each : ledger::template_files())
        if (each.name == file) return form_text{file + " (built in)", std::string{each.text}};
    return std::nullopt;
}

std::optional<form_text> form_shelf::find(const std::string& name) const {
    if (!is_plain_word(name))
        throw records::input_error(fmt::format("'{}' is not a form's name; a name is letters, digits, _ and -", name));
    return find_file(name + std::string{ending});
}

form_shelf::chosen form_shelf::choose(const std::string& given, bool workbook_wanted) const {
    auto name = given;
    bool page_alone = false, workbook_alone = false;
    if (name.ends_with(layout_ending))
        name.resize(name.size() - layout_ending.size()), workbook_alone = true;
    else if (name.ends_with(ending))
        name.resize(name.size() - ending.size()), page_alone = true;
    auto page = find(name);
    auto workbook = find_file(name + std::string{layout_ending});
    if (workbook && !page_alone && (workbook_alone || workbook_wanted || !page)) return {*workbook, true};
    if (page && !workbook_alone) return {*page, false};
    std::vector<std::string> names;
    for (const auto& each : all())
        names.push_back(each.name);
    throw records::input_error(
        fmt::format("there is no form '{}'; the nearest is '{}', and `tarewell report forms` lists all", given,
                    records::nearest_name(given, names)));
}

form_check form_shelf::check(const form_text& form) const {
    if (is_layout_file(form.file)) return {layout_faults(form), {}, {}};
    return check_form(form, [this](const std::string& name) -> std::optional<form_text> {
        return is_plain_word(name) ? find(name) : std::nullopt;
    });
}

std::string form_shelf::fill(const form_text& form, const page_input& input) const {
    const auto checked = check(form);
    if (!checked.faults.empty()) throw records::refused(checked.faults);
    if (checked.used.contains("site_sheet") && !input.site)
        throw records::input_error("this form is about one site; name it with --site, such as --site S01");
    if (checked.used.contains("grower_sheet") && !input.grower)
        throw records::input_error(
            "this form is about one grower; name the grower with --grower, such as --grower G001");
    std::vector<std::pair<std::string, std::string>> parts;
    for (const auto& part : checked.parts)
        parts.emplace_back(part, said_outside_tags(input.report.basis.period, find(part)->text));
    return fill_template(form.file, said_outside_tags(input.report.basis.period, form.text),
                         page_data(input, checked.used), parts);
}

bool is_layout_file(const std::string& path) {
    std::string_view name{path};
    if (constexpr std::string_view shipped = " (built in)"; name.ends_with(shipped)) name.remove_suffix(shipped.size());
    return name.ends_with(".toml");
}

form_text form_in_file(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    form_text form{path, {std::istreambuf_iterator<char>{in}, {}}};
    if (!in) throw records::io_error(fmt::format("{} could not be read", path));
    return form;
}

} // namespace tarewell::render
