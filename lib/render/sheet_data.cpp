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

} // namespace

std::string exact_text(const figures::cell& of) { return std::visit(text_writer{}, of); }

std::optional<double> number_in(const figures::cell& of) { return std::visit(number_writer{}, of); }

} // namespace tarewell::render
