#pragma once
#include <optional>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::office {

/// One field of a form. A file has the name that the browser gave it, which is nobody's to trust.
struct form_field {
    std::string name, value;
    std::optional<std::string> file_name = {};
};

/// What a form sent. A name that is there several times counts as not there.
class form {
  public:
    form() = default;
    explicit form(std::vector<form_field> fields) : fields_{std::move(fields)} {}
    [[nodiscard]] const std::vector<form_field>& fields() const { return fields_; }
    [[nodiscard]] const form_field* find(std::string_view name) const;
    /// Empty where it is not there.
    [[nodiscard]] std::string text(std::string_view name) const;
    [[nodiscard]] bool has(std::string_view name) const { return find(name) != nullptr; }

  private:
    std::vector<form_field> fields_;
};

/// What no form of ours sends is refused whole rather than guessed at.
struct form_limits {
    std::size_t fields = 200;
    std::size_t name = 200;             ///< bytes, also of a file's name
    std::size_t value = 64 * 1024;      ///< bytes, of a field that is no file
    std::size_t part_header = 4 * 1024; ///< bytes, of the headers of one part of multipart
};

/// application/x-www-form-urlencoded (WHATWG URL, section 5.1): names and values with %XX and + for a space. None for a
/// percent sign that two hexadecimal digits do not follow, a NUL byte, an empty name, or past the limits.
std::optional<form> read_urlencoded(std::string_view bytes, const form_limits& within = {});

/// multipart/form-data (RFC 7578), with the boundary of its content type. Each part has one content-disposition of
/// form-data with a name; lines end in CR LF; nothing stands before the first boundary or after the last. None for
/// anything else.
std::optional<form> read_multipart(std::string_view bytes, std::string_view boundary, const form_limits& within = {});

/// By a request's content type; none for a type that no form has.
std::optional<form> read_form(std::string_view content_type, std::string_view body, const form_limits& within = {});

} // namespace tarewell::office
