#include "office/gate.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::office {
namespace {

constexpr std::size_t longest_target = 4096;

response plain(int status, std::string text) { return {status, "text/plain; charset=utf-8", std::move(text)}; }

bool is_plain_target(std::string_view target) {
    return target.starts_with('/') && target.size() <= longest_target &&
           std::all_of(target.begin(), target.end(),
                       [](char c) { return c > ' ' && c < '\x7f' && c != '#' && c != '\\'; });
}

} // namespace

bool equal_in_constant_time(std::string_view a, std::string_view b) {
    if (a.size() != b.size()) return false;
    volatile unsigned char different = 0;
    for (std::size_t i = 0; i < a.size(); ++i)
        different = static_cast<unsigned char>(different | static_cast<unsigned char>(a[i] ^ b[i]));
    return different == 0;
}

void put_guards(response& on) {
    static constexpr std::pair<const char*, const char*> guards[] = {
        {"content-security-policy",
         "default-src 'none'; style-src 'self'; script-src 'self'; connect-src 'self'; img-src 'self' data:; "
         "form-action 'self'; base-uri 'none'; frame-ancestors 'none'"},
        {"x-content-type-options", "nosniff"},
        {"x-frame-options", "DENY"},
        {"referrer-policy", "no-referrer"},
        {"cross-origin-resource-policy", "same-origin"},
        {"cross-origin-opener-policy", "same-origin"},
        {"cache-control", "no-store"},
    };
    for (const auto& [name, value] : guards)
        on.headers.emplace_back(name, value);
}

std::string gate::link() const { return fmt::format("http://127.0.0.1:{}/?key={}", port_, drawn_.key); }

/// Cookies go to every port of a host: the name tells two offices apart.
std::string gate::cookie_name() const { return fmt::format("tarewell_{}", port_); }

bool gate::is_host(std::string_view text) const {
    const auto with_port = [&](const char* name) { return text == fmt::format("{}:{}", name, port_); };
    return with_port("127.0.0.1") || with_port("localhost") || with_port("[::1]");
}

std::optional<response> gate::refuses_form_of(const request& asked) const {
    const auto host = asked.header("host");
    if (!host || !is_host(*host)) return plain(421, "This is not the address of the office page.\n");
    if (asked.method != "GET" && asked.method != "HEAD" && asked.method != "POST") {
        auto refusal = plain(405, "The office page knows GET, HEAD and POST.\n");
        refusal.headers.emplace_back("allow", "GET, HEAD, POST");
        return refusal;
    }
    if (!is_plain_target(asked.target)) return plain(400, "That is no address of the office page.\n");
    return std::nullopt;
}

std::optional<response> gate::exchanges_key(const request& asked) {
    constexpr std::string_view before = "/?key=";
    const std::string_view target{asked.target};
    if (asked.method != "GET" || !target.starts_with(before)) return std::nullopt;
    if (knows(asked)) return sent_on("/"); // its own link again
    if (key_used_ || !equal_in_constant_time(target.substr(before.size()), drawn_.key)) return std::nullopt;
    key_used_ = true;
    auto made = sent_on("/");
    made.headers.emplace_back("set-cookie",
                              fmt::format("{}={}; Path=/; HttpOnly; SameSite=Strict", cookie_name(), drawn_.session));
    return made;
}

bool gate::knows(const request& asked) const {
    const auto brought = asked.cookie(cookie_name());
    return brought && equal_in_constant_time(*brought, drawn_.session);
}

bool gate::comes_from_here(const request& asked) const {
    const bool tells_site = asked.count_of("sec-fetch-site") > 0;
    if (tells_site && asked.header("sec-fetch-site") != "same-origin") return false;
    const auto origin = asked.header("origin");
    if (!origin || *origin == "null") return tells_site && asked.count_of("origin") <= 1;
    return asked.header("host") && *origin == fmt::format("http://{}", *asked.header("host"));
}

bool gate::is_token(std::string_view text) const { return equal_in_constant_time(text, drawn_.token); }

} // namespace tarewell::office
