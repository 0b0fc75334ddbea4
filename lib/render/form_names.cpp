#include "render/form_names.hpp"

#include "figures/closing.hpp"
#include "figures/table.hpp"
#include "render/form_names_said.hpp"

#include <algorithm>
#include <cctype>
#include <stdexcept>

namespace tarewell::render {
namespace {

form_name* child(form_name& of, std::string_view name) {
    for (auto& each : of.inside)
        if (each.name == name) return &each;
    return nullptr;
}

void add(form_name& to, std::string_view path, name_kind kind, std::string_view meaning) {
    form_name* parent = &to;
    for (auto dot = path.find('.'); dot != std::string_view::npos; dot = path.find('.')) {
        parent = child(*parent, path.substr(0, dot));
        if (parent == nullptr) throw std::logic_error("no parent for " + std::string{path});
        path.remove_prefix(dot + 1);
    }
    parent->inside.push_back({std::string{path}, kind, std::string{meaning}, {}});
    if (kind == list) parent->inside.push_back({"any_" + std::string{path}, yes_no, "there is one at least", {}});
}

template <std::size_t Count> void add_all(form_name& to, const table_line (&lines)[Count]) {
    for (const auto& each : lines)
        add(to, each.path, each.kind, each.meaning);
}

void add_evidence(form_name& to) {
    records::season empty;
    empty.the_award.emplace();
    const auto reckoned = reconcile::reckon(empty);
    const figures::basis any{{}, {quantity::day{}, quantity::day{}}, 0, false};
    for (const auto& table : figures::evidence_tables(empty, reckoned, any, true, {figures::restatement{}})) {
        const auto word = form_word(table.name);
        add(to, word, list, table.about);
        for (const auto& column : table.columns)
            add(to, word + "." + column.name, text, column.heading);
        add(to, word + ".in_quarter", yes_no, "dated in the quarter; always where the table has no such date");
    }
}

form_name make_names() {
    form_name root{"", group, "", {}};
    add_all(root, own_names);
    for (auto& each : child(root, "chart")->inside)
        add_all(each, chart_names_inside);
    for (const char* name : {"costs_by_purpose", "costs_by_site"})
        add_all(*child(root, name), cost_names_inside);
    for (const char* name : {"money", "money_total", "money_unclassed"})
        add_all(*child(root, name), money_names_inside);
    for (const char* name : {"in_quarter", "to_date"})
        add_all(*child(*child(root, "site_sheet"), name), site_names_inside);
    add(root, "figures", list, "every figure in its order");
    add_all(*child(root, "figures"), figure_names_inside);
    add(root, "figure", group, "figures by name");
    for (const auto& each : figures::all_figure_names()) {
        auto& figure = *child(root, "figure");
        add(figure, each.name, group, each.meaning);
        add_all(*child(figure, each.name), figure_names_inside);
    }
    add_evidence(root);
    return root;
}

void list_names(const form_name& of, const std::string& before, std::vector<named_line>& lines) {
    for (const auto& each : of.inside) {
        const auto path = before + each.name;
        lines.push_back({path, each.kind, each.meaning});
        if (path == "figure") {
            for (const auto& inner : figure_names_inside)
                lines.push_back({"figure.NAME." + std::string{inner.path}, inner.kind, std::string{inner.meaning}});
            continue;
        }
        list_names(each, path + ".", lines);
    }
}

} // namespace

std::string_view name_of(name_kind kind) {
    switch (kind) {
    case text:
        return "text";
    case markup:
        return "markup";
    case yes_no:
        return "yes or no";
    case group:
        return "group";
    case list:
        return "list";
    }
    return {};
}

const form_name* form_name::find(std::string_view inner) const {
    for (const auto& each : inside)
        if (each.name == inner) return &each;
    return nullptr;
}

const form_name* form_name::resolve(std::string_view path) const {
    const auto dot = path.find('.');
    const auto* first = find(path.substr(0, dot));
    if (first == nullptr || dot == std::string_view::npos) return first;
    // A list's items have no names until its section is open.
    return first->kind == group ? first->resolve(path.substr(dot + 1)) : nullptr;
}

const form_name& all_form_names() {
    static const form_name root = make_names();
    return root;
}

std::vector<named_line> form_name_lines() {
    std::vector<named_line> lines;
    list_names(all_form_names(), "", lines);
    return lines;
}

} // namespace tarewell::render
