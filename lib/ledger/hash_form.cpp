#include "ledger/hash_form.hpp"

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr std::size_t usual_length = 240;

void add_optional(std::string& message, std::string_view text) {
    if (text.empty())
        add_none(message);
    else
        add_field(message, text);
}

template <class Number> void add_optional(std::string& message, const std::optional<Number>& number) {
    if (number)
        add_number(message, *number);
    else
        add_none(message);
}

} // namespace

std::string act_form(std::int64_t act, std::span<const std::string_view> texts) {
    std::string message;
    add_number(message, act);
    for (const auto text : texts)
        add_optional(message, text);
    return message;
}

void add_entry_form(std::string& message, const entry_heading& heading) {
    add_number(message, heading.seq);
    add_field(message, heading.kind);
    add_field(message, heading.deed);
    add_optional(message, heading.replaces);
    add_optional(message, heading.effective);
    add_optional(message, heading.line);
}

std::string values_form(const row& values, std::string_view contact_digest) {
    std::string message;
    message.reserve(usual_length);
    add_values_form(message, values, contact_digest);
    return message;
}

void add_values_form(std::string& message, const row& values, std::string_view contact_digest) {
    const auto& kind = info(values.which);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!kind.columns[i].personal && !kind.columns[i].later) add_optional(message, values[i]);
    if (kind.has_personal_columns()) add_optional(message, contact_digest);
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i)
        add_optional(message, values.worked_out[i]);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (kind.columns[i].later && !values[i].empty()) {
            add_field(message, kind.columns[i].name);
            add_field(message, values[i]);
        }
}

std::string contact_form(std::string_view salt, const row& values) {
    const auto& kind = info(values.which);
    std::string message;
    add_field(message, salt);
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (kind.columns[i].personal) add_optional(message, values[i]);
    return message;
}

} // namespace tarewell::ledger
