#include "render/sheet_data.hpp"

#include <fmt/format.h>

namespace tarewell::render {
namespace {

struct text_writer {
    std::string operator()(std::monostate) const { return {}; }
    std::string operator()(const std::string& text) const { return text; }
    std::string operator()(quantity::day day) const { return quantity::text_of(day); }
    std::string operator()(std::int64_t count) const { return fmt::format("{}", count); }
    std::string operator()(quantity::weight value) const { return quantity::text_of(value); }
    std::string operator()(quantity::money value) const { return quantity::text_of(value); }
    std::string operator()(figures::real value) const { return fmt::format("{}", value); }
};

struct number_writer {
    std::optional<double> operator()(std::int64_t count) const { return static_cast<double>(count); }
    std::optional<double> operator()(quantity::weight value) const {
        return quantity::nearest_double(value.count(), 1000);
    }
    std::optional<double> operator()(quantity::money value) const {
        return quantity::nearest_double(value.count(), 100);
    }
    std::optional<double> operator()(figures::real value) const { return value; }
    template <class Other> std::optional<double> operator()(const Other&) const { return std::nullopt; }
};

template <class Value> figures::cell sum_as(const sheet_data& sheet, std::size_t column) {
    Value sum{};
    for (std::size_t row = 0; row < sheet.rows.size(); ++row)
        if (const auto* value = std::get_if<Value>(&sheet.at(row, column))) sum += *value;
    return sum;
}

} // namespace

std::string exact_text(const figures::cell& of) { return std::visit(text_writer{}, of); }

std::optional<double> number_in(const figures::cell& of) { return std::visit(number_writer{}, of); }

figures::cell sum_of(const sheet_data& sheet, std::size_t column) {
    switch (sheet.content_of(column)) {
    case figures::content::number:
        return sum_as<std::int64_t>(sheet, column);
    case figures::content::heft:
        return sum_as<quantity::weight>(sheet, column);
    case figures::content::dollars:
        return sum_as<quantity::money>(sheet, column);
    default:
        return {};
    }
}

} // namespace tarewell::render
