#include "office/http.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::office {
namespace {

bool is_plain(char c) {
    return (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '-' || c == '.' ||
           c == '_' || c == '~';
}

std::string_view without_spaces(std::string_view text) {
    const auto from = text.find_first_not_of(' ');
    if (from == std::string_view::npos) return {};
    return text.substr(from, text.find_last_not_of(' ') - from + 1);
}

} // namespace

std::string_view request::path() const { return std::string_view{target}.substr(0, target.find('?')); }

std::size_t request::count_of(std::string_view name) const {
    return static_cast<std::size_t>(
        std::count_if(headers.begin(), headers.end(), [&](const auto& each) { return each.first == name; }));
}

std::optional<std::string_view> request::header(std::string_view name) const {
    if (count_of(name) != 1) return std::nullopt;
    return std::find_if(headers.begin(), headers.end(), [&](const auto& each) { return each.first == name; })->second;
}

std::optional<std::string_view> request::cookie(std::string_view name) const {
    const auto all = header("cookie");
    if (!all) return std::nullopt;
    std::optional<std::string_view> found;
    for (auto rest = *all; !rest.empty();) {
        const auto end = std::min(rest.find(';'), rest.size());
        const auto one = without_spaces(rest.substr(0, end));
        rest.remove_prefix(std::min(end + 1, rest.size()));
        const auto equals = one.find('=');
        if (equals == std::string_view::npos || one.substr(0, equals) != name) continue;
        if (found) return std::nullopt;
        found = one.substr(equals + 1);
    }
    return found;
}

response sent_on(const std::string& to) {
    return {303, "text/plain; charset=utf-8", "see " + to + "\n", {{"location", to}}};
}

response download(std::string name, std::string type, std::string bytes) {
    for (auto& c : name)
        if (!is_plain(c)) c = '_';
    return {200,
            std::move(type),
            std::move(bytes),
            {{"content-disposition", fmt::format("attachment; filename=\"{}\"", name)}}};
}

std::string in_query(std::string_view text) {
    std::string made;
    for (const char c : text) {
        if (is_plain(c))
            made += c;
        else
            made += fmt::format("%{:02X}", static_cast<unsigned>(static_cast<unsigned char>(c)));
    }
    return made;
}

} // namespace tarewell::office
