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

std::map<std::string, std::string> remembered(const state& of, const records::kind_info& kind) {
    std::map<std::string, std::string> values;
    const auto last = of.last_values.find(std::string{kind.name});
    if (last == of.last_values.end()) return values;
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const std::string name{kind.columns[i].name};
        const auto known = last->second.find(name);
        if (known != last->second.end() && is_remembered(kind, i)) values[name] = known->second;
    }
    return values;
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
    desk::look_up names{file};
    names.put_ids(kind.which, given);
    made.change = desk::with_names(names, [&] {
        return intake::record(file, kind.which, given, of.around, from.sent.text("once"), {}, intake::sight::neighbours,
                              [&](const std::vector<records::entry_no>& entries) {
                                  made.read_as = desk::echo_of(file, kind.which, entries);
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
    return page(of, "enter", "Enter", {{"groups", std::move(shown)}});
}

response show_entry(state& of, const call& from) {
    if (!from.query.has("kind")) return show_kinds(of, from);
    const auto& kind = kind_of(from.query);
    entry_form form{kind, remembered(of, kind)};
    form.told = of.told.find(from.query.text("told"));
    for (const auto& column : kind.columns) // a link may bring values along
        if (from.query.has(column.name)) form.values[std::string{column.name}] = from.query.text(column.name);
    return show_form(of, form);
}

response take_entry(state& of, const call& from) {
    const auto& kind = kind_of(from.sent);
    entry_form form{kind, values_in(from.sent, kind)};
    form.once = from.sent.text("once");
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
        return sent_on(fmt::format("/enter?kind={}&told={}", kind.name, name));
    } catch (const records::refused& refusal) {
        form.wrong = errors_of(refusal, kind);
        return show_form(of, form, 422);
    }
}

} // namespace tarewell::office
