#include "office/form_reader.hpp"

#include <algorithm>

namespace tarewell::office {
namespace {

std::optional<int> digit_of(char c) {
    if (c >= '0' && c <= '9') return c - '0';
    if (c >= 'a' && c <= 'f') return c - 'a' + 10;
    if (c >= 'A' && c <= 'F') return c - 'A' + 10;
    return std::nullopt;
}

std::optional<std::string> decoded(std::string_view text) {
    std::string made;
    made.reserve(text.size());
    for (std::size_t i = 0; i < text.size(); ++i) {
        char c = text[i];
        if (c == '+') {
            c = ' ';
        } else if (c == '%') {
            if (i + 2 >= text.size()) return std::nullopt;
            const auto high = digit_of(text[i + 1]), low = digit_of(text[i + 2]);
            if (!high || !low) return std::nullopt;
            c = static_cast<char>(*high * 16 + *low);
            i += 2;
        }
        if (c == '\0') return std::nullopt;
        made += c;
    }
    return made;
}

bool begins_like(std::string_view text, std::string_view with) {
    return text.size() >= with.size() && std::equal(with.begin(), with.end(), text.begin(), [](char a, char b) {
               return a == (b >= 'A' && b <= 'Z' ? static_cast<char>(b - 'A' + 'a') : b);
           });
}

void skip_spaces(std::string_view& text) { text.remove_prefix(std::min(text.find_first_not_of(" \t"), text.size())); }

/// A quoted text at the front, taken off. Browsers write a quote in it as %22 and no backslashes (WHATWG HTML,
/// multipart/form-data encoding).
std::optional<std::string> take_quoted(std::string_view& text) {
    if (!text.starts_with('"')) return std::nullopt;
    const auto end = text.find('"', 1);
    if (end == std::string_view::npos) return std::nullopt;
    std::string made{text.substr(1, end - 1)};
    text.remove_prefix(end + 1);
    return made;
}

/// `form-data; name="..."` with perhaps `; filename="..."`.
bool read_disposition(std::string_view text, form_field& into) {
    if (!begins_like(text, "form-data")) return false;
    text.remove_prefix(9);
    bool named = false;
    while (!text.empty()) {
        skip_spaces(text);
        if (!text.starts_with(';')) return text.empty() && named;
        text.remove_prefix(1);
        skip_spaces(text);
        const bool is_name = begins_like(text, "name="), is_file = begins_like(text, "filename=");
        if (!is_name && !is_file) return false;
        text.remove_prefix(is_name ? 5 : 9);
        auto quoted = take_quoted(text);
        if (!quoted || quoted->find('\0') != std::string::npos) return false;
        if ((is_name && named) || (is_file && into.file_name)) return false;
        if (is_name) {
            into.name = std::move(*quoted);
            named = true;
        } else {
            into.file_name = std::move(*quoted);
        }
    }
    return named;
}

/// A part's headers, lines that end in CR LF.
bool read_part_headers(std::string_view text, form_field& into) {
    bool placed = false;
    while (!text.empty()) {
        const auto end = text.find("\r\n");
        if (end == std::string_view::npos) return false;
        auto line = text.substr(0, end);
        text.remove_prefix(end + 2);
        if (line.find_first_of("\r\n") != std::string_view::npos) return false;
        if (begins_like(line, "content-disposition:")) {
            if (placed) return false;
            line.remove_prefix(20);
            skip_spaces(line);
            placed = read_disposition(line, into);
            if (!placed) return false;
        } else if (!begins_like(line, "content-type:")) {
            return false;
        }
    }
    return placed;
}

bool keeps_limits(const form_field& one, const form_limits& within) {
    return !one.name.empty() && one.name.size() <= within.name &&
           (one.file_name ? one.file_name->size() <= within.name
                          : one.value.size() <= within.value && one.value.find('\0') == std::string::npos);
}

/// As RFC 2046 has it: 1 to 70 characters, none of them a blank at the end; of those, the ones that browsers use.
bool is_boundary(std::string_view text) {
    return !text.empty() && text.size() <= 70 && std::all_of(text.begin(), text.end(), [](char c) {
        return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') ||
               std::string_view{"'()+_,-./:=?"}.find(c) != std::string_view::npos;
    });
}

} // namespace

const form_field* form::find(std::string_view name) const {
    const form_field* found = nullptr;
    for (const auto& each : fields_) {
        if (each.name != name) continue;
        if (found != nullptr) return nullptr;
        found = &each;
    }
    return found;
}

std::string form::text(std::string_view name) const {
    const auto* found = find(name);
    return found == nullptr ? std::string{} : found->value;
}

std::optional<form> read_urlencoded(std::string_view bytes, const form_limits& within) {
    std::vector<form_field> fields;
    while (!bytes.empty()) {
        const auto end = std::min(bytes.find('&'), bytes.size());
        const auto pair = bytes.substr(0, end);
        bytes.remove_prefix(std::min(end + 1, bytes.size()));
        const auto equals = std::min(pair.find('='), pair.size());
        const auto name = decoded(pair.substr(0, equals));
        const auto value = decoded(pair.substr(std::min(equals + 1, pair.size())));
        if (!name || !value || fields.size() == within.fields) return std::nullopt;
        fields.push_back({*name, *value});
        if (!keeps_limits(fields.back(), within)) return std::nullopt;
    }
    return form{std::move(fields)};
}

std::optional<form> read_multipart(std::string_view bytes, std::string_view boundary, const form_limits& within) {
    if (!is_boundary(boundary)) return std::nullopt;
    const auto opening = "--" + std::string{boundary}, between = "\r\n" + opening;
    if (!bytes.starts_with(opening)) return std::nullopt;
    bytes.remove_prefix(opening.size());
    std::vector<form_field> fields;
    while (bytes.starts_with("\r\n")) {
        bytes.remove_prefix(2);
        const auto headers_end = bytes.substr(0, within.part_header).find("\r\n\r\n");
        if (headers_end == std::string_view::npos || fields.size() == within.fields) return std::nullopt;
        form_field one;
        if (!read_part_headers(bytes.substr(0, headers_end + 2), one)) return std::nullopt;
        bytes.remove_prefix(headers_end + 4);
        const auto end = bytes.find(between);
        if (end == std::string_view::npos) return std::nullopt;
        one.value = bytes.substr(0, end);
        bytes.remove_prefix(end + between.size());
        if (!keeps_limits(one, within)) return std::nullopt;
        fields.push_back(std::move(one));
    }
    if (bytes != "--\r\n" && bytes != "--") return std::nullopt;
    return form{std::move(fields)};
}

std::optional<form> read_form(std::string_view type, std::string_view body, const form_limits& within) {
    if (begins_like(type, "application/x-www-form-urlencoded") && (type.size() == 33 || type[33] == ';'))
        return read_urlencoded(body, within);
    constexpr std::string_view multipart = "multipart/form-data; boundary=";
    if (!begins_like(type, multipart)) return std::nullopt;
    type.remove_prefix(multipart.size());
    if (type.size() > 1 && type.starts_with('"') && type.ends_with('"')) type = type.substr(1, type.size() - 2);
    return read_multipart(body, type, within);
}

} // namespace tarewell::office
