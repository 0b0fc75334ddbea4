#pragma once
#include <functional>
#include <optional>
#include <string>
#include <string_view>
#include <utility>
#include <vector>

namespace tarewell::office {

/// A request as it came over the wire, read and nothing more. Header names are in small letters.
struct request {
    std::string method, target;
    std::vector<std::pair<std::string, std::string>> headers;
    std::string body = {};

    /// The path, before a question mark, as it stands: nothing is decoded in it.
    [[nodiscard]] std::string_view path() const;
    /// The value of a header that is there once; none where it is missing or there several times.
    [[nodiscard]] std::optional<std::string_view> header(std::string_view name) const;
    [[nodiscard]] std::size_t count_of(std::string_view name) const;
    /// A cookie's value; none where it is missing or there several times.
    [[nodiscard]] std::optional<std::string_view> cookie(std::string_view name) const;
};

struct response {
    int status = 200;
    std::string type = "text/html; charset=utf-8";
    std::string body = {};
    std::vector<std::pair<std::string, std::string>> headers = {};
};

/// To be looked up at another address, with GET (303).
response sent_on(const std::string& to);
/// For saving: a name of plain letters, whatever was asked for.
response download(std::string name, std::string type, std::string bytes);

/// Text in a link's query: everything but letters, digits and -._~ is percent-encoded.
std::string in_query(std::string_view text);

} // namespace tarewell::office
