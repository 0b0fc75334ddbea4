#include "office/entry_form.hpp"

#include "desk/labels.hpp"
#include "ledger/sha256.hpp"
#include "office/choices.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::office {
namespace {

using records::column;
using records::column_type;

const char* type_of(const column& of) {
    switch (of.type) {
    case column_type::date:
        return "date";
    case column_type::time:
        return "time";
    default:
        return of.name == "email" ? "email" : of.name == "phone" ? "tel" : "text";
    }
}

value mode_of(const column& of) {
    switch (of.type) {
    case column_type::positive:
    case column_type::nonnegative:
    case column_type::amount:
    case column_type::credit:
        return "decimal";
    case column_type::count:
    case column_type::month:
        return "numeric";
    default:
        return nullptr;
    }
}

std::string value_in(const entry_form& form, std::string_view name) {
    const auto found = form.values.find(std::string{name});
    return found == form.values.end() ? std::string{} : found->second;
}

const field_error* error_of(const entry_form& form, std::string_view name) {
    for (const auto& each : form.wrong)
        if (each.field == name) return &each;
    return nullptr;
}

/// Where the cursor goes when the page opens.
std::string focus_of(const entry_form& form) {
    if (!form.focus.empty()) return form.focus;
    for (const auto& each : form.kind.columns)
        if (error_of(form, each.name) != nullptr) return std::string{each.name};
    for (std::size_t i = 0; i < form.kind.columns.size(); ++i)
        if (value_in(form, form.kind.columns[i].name).empty() && !(form.correcting && form.kind.is_key(i)))
            return std::string{form.kind.columns[i].name};
    return std::string{form.kind.columns[0].name};
}

value options_of(const column& of, const std::string& chosen) {
    auto options = value::array();
    for (const auto word : of.words)
        options.push_back({{"word", word}, {"chosen", records::same_but_for_case(word, chosen)}});
    return options;
}

/// Where scales weigh in several units, a ticket's is that of its scale: "SC1 lb, SC2 kg".
std::string units_of_scales(const records::season& of) {
    std::string units;
    bool several = false;
    for (const auto& each : of.scales) {
        several = several || each.unit != of.scales.front().unit;
        units += fmt::format("{}{} {}", units.empty() ? "" : ", ", each.id.text(), quantity::name_of(each.unit));
    }
    return several ? "the scale's own: " + units : std::string{};
}

value field_of(const entry_form& form, std::size_t place, const std::string& focus, const std::string& last_key,
               const records::season& season) {
    const auto& column = form.kind.columns[place];
    const std::string name{column.name};
    const auto* error = error_of(form, name);
    auto hint = desk::hint_of(form.kind, column);
    if (place == form.kind.key[0] && !last_key.empty() && !form.correcting)
        hint += fmt::format("{}the last one was {}", hint.empty() ? "" : "; ", last_key);
    if (form.kind.which == records::kind::ticket && name == "unit") hint = units_of_scales(season);
    const bool reckoned = name == "net" && form.kind.find("gross") && !form.correcting; // from what stands before it
    if (reckoned) hint += fmt::format("{}left empty, it is gross less tare", hint.empty() ? "" : "; ");
    std::string described;
    if (error != nullptr) described = "e-" + name;
    if (!hint.empty()) described += (described.empty() ? "h-" : " h-") + name;
    const auto or_none = [](const std::string& text) { return text.empty() ? value{} : value{text}; };
    return {{"name", name},
            {"label", desk::label_of(form.kind, column)},
            {"hint", or_none(hint)},
            {"error", error == nullptr ? value{} : value{error->sentence}},
            {"described", or_none(described)},
            {"required", column.required && !reckoned},
            {"words", column.type == column_type::word},
            {"options", options_of(column, value_in(form, name))},
            {"type", type_of(column)},
            {"mode", mode_of(column)},
            {"value", value_in(form, name)},
            {"list", column.names || column.names_by != nullptr ? value{list_name(column)} : value{}},
            {"fixed", form.correcting && form.kind.is_key(place)},
            {"focus", name == focus}};
}

value errors_for_page(const entry_form& form) {
    auto errors = value::array();
    for (const auto& each : form.wrong) {
        const auto place = form.kind.find(each.field);
        errors.push_back({{"field", each.field.empty() ? value{} : value{each.field}},
                          {"label", place ? desk::label_of(form.kind, form.kind.columns[*place]) : each.field},
                          {"sentence", each.sentence}});
    }
    return errors;
}

void put_correction(value& data, const entry_form::correction& of) {
    data["correcting"] = true;
    data["id"] = of.key[0];
    data["second"] = of.key.size() > 1 ? value{of.key[1]} : value{};
    data["shown"] = of.shown;
    data["why"] = of.why;
}

/// The key that was entered last, before anything is corrected.
std::string last_key_of(const state& of, const records::kind_info& kind) {
    const auto last = of.last_values.find(std::string{kind.name});
    if (last == of.last_values.end()) return {};
    const auto key = last->second.find(std::string{kind.columns[kind.key[0]].name});
    return key == last->second.end() ? std::string{} : key->second;
}

} // namespace

value said_of(const desk::echo& of) {
    value data{{"understood", of.understood}};
    auto doubts = value::array();
    for (const auto& each : of.doubts)
        doubts.push_back({{"level", name_of(each.level)},
                          {"sentence", each.sentence},
                          {"blocks", each.level == reconcile::flag_level::blocks}});
    put_list(data, "doubts", std::move(doubts));
    put_list(data, "filed", of.filed);
    return data;
}

std::string mark_of(const desk::echo& shown) { return ledger::hex(ledger::sha256{}.of(shown.text())).substr(0, 16); }

response show_form(state& of, const entry_form& form, int status) {
    value data{{"kind", form.kind.name},
               {"action", form.correcting ? "/correct" : "/enter"},
               {"once", form.once.empty() ? of.around.random() : form.once},
               {"button", form.correcting ? "Correct it" : "Record it"},
               {"correcting", false},
               {"why_error", error_of(form, "why") != nullptr}};
    const auto focus = focus_of(form);
    const auto last_key = last_key_of(of, form.kind);
    auto fields = value::array();
    for (std::size_t i = 0; i < form.kind.columns.size(); ++i)
        fields.push_back(field_of(form, i, focus, last_key, of.kept.season().season));
    data["fields"] = std::move(fields);
    data["lists"] = choices_for(of.kept.season(), form.kind);
    put_list(data, "wrong", errors_for_page(form));
    data["wrong_count"] =
        form.wrong.size() == 1 ? "One thing to mend:" : fmt::format("{} things to mend:", form.wrong.size());
    data["held"] = form.held == nullptr ? value{} : said_of(*form.held);
    if (form.held != nullptr) data["held"]["mark"] = mark_of(*form.held);
    data["look"] = form.look == nullptr ? value{} : said_of(*form.look);
    data["said"] = nullptr;
    if (form.told != nullptr) {
        data["said"] = said_of(form.told->echo);
        data["said"]["heading"] = form.told->heading;
        data["said"]["link"] = record_link(form.told->kind, form.told->key, form.told->second_key);
    }
    if (form.correcting) put_correction(data, *form.correcting);
    data["sheet"] = form.sheet ? sheet_for_page(of, *form.sheet) : value{};
    data["is_asked"] = !form.sheet || form.sheet->is_at_a_row();
    const auto title = form.correcting
                           ? fmt::format("Correct {} {}", form.kind.name, fmt::join(form.correcting->key, " "))
                           : fmt::format("Enter {}", desk::one_of(form.kind));
    return page(of, "form", title, std::move(data), status);
}

std::map<std::string, std::string> values_in(const form& sent, const records::kind_info& kind) {
    std::map<std::string, std::string> values;
    for (const auto& column : kind.columns) {
        const std::string name{column.name};
        const auto* field = sent.find(name);
        if (field == nullptr || field->file_name) continue;
        auto text = field->value;
        if (column.type != column_type::text) {
            text.erase(0, std::min(text.find_first_not_of(' '), text.size()));
            text.erase(text.find_last_not_of(' ') + 1);
        }
        values[name] = text;
    }
    return values;
}

std::vector<field_error> errors_of(const records::refused& refusal, const records::kind_info& kind) {
    std::vector<field_error> errors;
    for (const auto& line : refusal.lines()) {
        const auto colon = line.find(": ");
        auto field = colon == std::string::npos ? std::string{} : line.substr(0, colon);
        if (field.starts_with("--")) field.erase(0, 2);
        if (kind.find(field) || field == "why")
            errors.push_back({field, line.substr(colon + 2)});
        else
            errors.push_back({{}, line});
    }
    return errors;
}

} // namespace tarewell::office
