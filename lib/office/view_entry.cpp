#include "desk/labels.hpp"
#include "desk/look_up.hpp"
#include "desk/next_record.hpp"
#include "intake/intake.hpp"
#include "office/entry_form.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

/// What the next of a kind most likely shares with the last; in a record of several rows all that its rows share, with
/// its id.
bool is_remembered(const records::kind_info& kind, std::size_t place) {
    const auto& column = kind.columns[place];
    return column.shared || desk::is_said_again(column) || (kind.key_columns == 2 && kind.key[0] == place) ||
           (kind.which == records::kind::bundle && column.name == "of");
}

/// What the next of a kind most likely says: the id after the last, the day and place of the last, and what was just
/// recorded here.
void propose(state& of, entry_form& form) {
    const auto& kind = form.kind;
    const auto last = of.last_values.find(std::string{kind.name});
    const auto on_the_sheet =
        form.sheet && form.sheet->is_at_a_row() ? form.sheet->rows[form.sheet->row] : desk::typed_values{};
    desk::next_record next{of.kept.file(), kind.which, of.around.now().substr(0, 10)};
    if (last != of.last_values.end()) next.took(last->second);
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const std::string name{kind.columns[i].name};
        auto& value = form.values[name];
        if (const auto known = on_the_sheet.find(name); known != on_the_sheet.end()) {
            value = known->second;
            continue;
        }
        if (last != of.last_values.end() && is_remembered(kind, i))
            if (const auto known = last->second.find(name); known != last->second.end()) value = known->second;
        if (!value.empty()) continue;
        value = next.proposed(kind.columns[i], form.values);
        if (i == kind.key[0] && !value.empty()) form.focus = name; // it stands on the paper: to be held against it
    }
}

struct group_of_kinds {
    const char* heading;
    std::initializer_list<records::kind> kinds;
};

value kinds_in(const group_of_kinds& group) {
    auto kinds = value::array();
    for (const auto which : group.kinds) {
        const auto& kind = records::info(which);
        kinds.push_back({{"kind", kind.name}, {"label", desk::label_of(kind)}});
    }
    return {{"heading", group.heading}, {"kinds", std::move(kinds)}};
}

/// Records it unless it is only looked at, or blocks a closing and is not ticked.
struct attempt {
    intake::change_summary change;
    std::optional<desk::echo> read_as;
};

attempt try_to_record(state& of, const records::kind_info& kind, const call& from,
                      const std::map<std::string, std::string>& values) {
    attempt made;
    auto& file = of.kept.file();
    intake::named_values given;
    for (const auto& [name, text] : values)
        if (!text.empty()) given[name] = text;
    const bool looks = from.sent.has("look");
    desk::look_up names{file, of.kept.at_hand()};
    names.put_ids(kind.which, given);
    made.change = desk::with_names(names, [&] {
        return intake::record(file, kind.which, given, of.around, from.sent.text("once"), {}, intake::sight::neighbours,
                              [&](const std::vector<records::entry_no>& entries) {
                                  made.read_as = of.kept.echo_of(kind.which, entries);
                                  auto& lines = made.read_as->understood;
                                  lines.insert(lines.begin(), names.told.begin(), names.told.end());
                                  return !looks &&
                                         (!made.read_as->blocks() || from.sent.text("sure") == mark_of(*made.read_as));
                              });
    });
    return made;
}

std::string at(const std::map<std::string, std::string>& values, const records::column& column) {
    const auto found = values.find(std::string{column.name});
    return found == values.end() ? std::string{} : found->second;
}

} // namespace

response show_kinds(state& of, const call& /*from*/) {
    using enum records::kind;
    static const group_of_kinds groups[] = {
        {"Every day", {ticket, receipt, bale, reject, haul}},
        {"A grower calls", {grower, cover, bundle}},
        {"Shipments", {shipment, acceptance}},
        {"Money and match", {cost, inkind, income, request, payment, obligation, liquidation}},
        {"Once a season", {award, site, scale, budget, rate, amendment, rebudget, setting}},
    };
    auto shown = value::array();
    for (const auto& each : groups)
        shown.push_back(kinds_in(each));
    auto data = sheets_to_choose_from(of);
    data["groups"] = std::move(shown);
    return page(of, "enter", "Enter", std::move(data));
}

response show_entry(state& of, const call& from) {
    if (!from.query.has("kind")) return show_kinds(of, from);
    const auto& kind = kind_of(from.query);
    entry_form form{kind, {}};
    form.sheet = sheet_asked(of, from.query, kind);
    if (form.sheet && !from.query.has("row"))
        return sent_on(form.sheet->link(form.sheet->row)); // which stays as it is now
    propose(of, form);
    form.told = of.told.find(from.query.text("told"));
    for (const auto& column : kind.columns) // a link may bring values along
        if (column.name != "kind" && from.query.has(column.name))
            form.values[std::string{column.name}] = from.query.text(column.name);
    return show_form(of, form);
}

response take_entry(state& of, const call& from) {
    const auto& kind = kind_of(from.sent);
    entry_form form{kind, values_in(from.sent, kind)};
    form.once = from.sent.text("once");
    form.sheet = sheet_asked(of, from.sent, kind);
    if (const auto net = form.values.find("net"); net != form.values.end() && net->second.empty())
        net->second = desk::net_of(form.values);
    try {
        const auto made = try_to_record(of, kind, from, form.values);
        if (made.change.held_back) {
            (from.sent.has("look") ? form.look : form.held) = &*made.read_as;
            return show_form(of, form, from.sent.has("look") ? 200 : 422);
        }
        const auto key = at(form.values, kind.columns[kind.key[0]]);
        const auto second = kind.key_columns == 2 ? at(form.values, kind.columns[kind.key[1]]) : std::string{};
        said told{made.read_as.value_or(desk::echo{}), made.change.note, std::string{kind.name}, key, second};
        if (!made.change.entries.empty()) {
            told.heading = fmt::format("Recorded by entry {}.", made.change.entries.front());
            of.last_values[std::string{kind.name}] = form.values;
        }
        const auto name = of.around.random();
        of.told.keep(name, std::move(told));
        const auto next = form.sheet
                              ? form.sheet->link(next_not_done(of, *form.sheet, row_after(*form.sheet, form.values)))
                              : fmt::format("/enter?kind={}", kind.name);
        return sent_on(fmt::format("{}&told={}", next, name));
    } catch (const records::refused& refusal) {
        form.wrong = errors_of(refusal, kind);
        return show_form(of, form, 422);
    }
}

} // namespace tarewell::office
