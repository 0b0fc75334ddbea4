#pragma once
#include "quantity/day.hpp"
#include "quantity/money.hpp"
#include "quantity/weight.hpp"

#include <concepts>
#include <cstdint>
#include <initializer_list>
#include <optional>
#include <string>
#include <string_view>
#include <variant>
#include <vector>

namespace tarewell::desk {

/// What is told to machines: nothing, yes or no, a number, a text, a list, or fields by name in their order. Exact
/// weights, amounts and days are texts ("12.500", "2026-05-14"); a number that is none (infinite) is null.
class value {
  public:
    struct field;
    using values = std::vector<value>;
    using fields = std::vector<field>;

    value() = default;
    value(std::nullptr_t) {}
    value(bool of) : of_{of} {}
    template <std::integral T>
    requires(!std::same_as<T, bool>) value(T of) {
        if constexpr (std::signed_integral<T>)
            of_ = static_cast<std::int64_t>(of);
        else
            of_ = static_cast<std::uint64_t>(of);
    }
    value(double of) : of_{of} {}
    value(const char* of) : of_{std::string{of}} {}
    value(std::string_view of) : of_{std::string{of}} {}
    value(std::string of) : of_{std::move(of)} {}
    value(quantity::weight of) : of_{quantity::text_of(of)} {}
    value(quantity::money of) : of_{quantity::text_of(of)} {}
    value(quantity::day of) : of_{quantity::text_of(of)} {}
    template <class T> value(const std::optional<T>& of) {
        if (of) *this = value{*of};
    }
    value(const std::vector<std::string>& of) : of_{values(of.begin(), of.end())} {}
    value(const std::vector<double>& of) : of_{values(of.begin(), of.end())} {}
    value(std::initializer_list<field> of);

    static value array() { return value{kind{values{}}}; }
    static value object() { return value{kind{fields{}}}; }

    /// A field, made null at the end where there is none yet.
    value& operator[](const std::string& name);
    void push_back(value of) { std::get<values>(of_).push_back(std::move(of)); }
    [[nodiscard]] const value* find(std::string_view name) const;

    [[nodiscard]] bool is_null() const { return std::holds_alternative<std::monostate>(of_); }
    [[nodiscard]] const std::string* text() const { return std::get_if<std::string>(&of_); }
    [[nodiscard]] const bool* yes_or_no() const { return std::get_if<bool>(&of_); }
    [[nodiscard]] const values* list() const { return std::get_if<values>(&of_); }
    [[nodiscard]] const fields* named() const { return std::get_if<fields>(&of_); }
    /// True for null and for a list or fields without one.
    [[nodiscard]] bool empty() const;

    /// As JSON (RFC 8259), two spaces a level; without `indented`, in one line. Throws std::invalid_argument for text
    /// that is not UTF-8.
    [[nodiscard]] std::string json(bool indented = true) const;

  private:
    using kind = std::variant<std::monostate, bool, std::int64_t, std::uint64_t, double, std::string, values, fields>;
    explicit value(kind of) : of_{std::move(of)} {}
    kind of_;

    void write(std::string& to, int level) const;
};

struct value::field {
    std::string name;
    value of;
};

} // namespace tarewell::desk
