#include "desk/value.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <algorithm>

namespace tarewell::desk {
namespace {

using scalar = nlohmann::ordered_json; // its way of writing texts and reals is what answers always had

void new_line(std::string& to, int level) {
    if (level < 0) return;
    to += '\n';
    to.append(static_cast<std::size_t>(level) * 2, ' ');
}

} // namespace

value::value(std::initializer_list<field> of) : of_{fields(of)} {}

value& value::operator[](const std::string& name) {
    if (is_null()) of_ = fields{};
    auto& all = std::get<fields>(of_);
    const auto found = std::find_if(all.begin(), all.end(), [&](const field& each) { return each.name == name; });
    return found != all.end() ? found->of : all.emplace_back(field{name, {}}).of;
}

const value* value::find(std::string_view name) const {
    if (const auto* all = named())
        for (const auto& each : *all)
            if (each.name == name) return &each.of;
    return nullptr;
}

bool value::empty() const {
    return is_null() || (list() != nullptr && list()->empty()) || (named() != nullptr && named()->empty());
}

std::string value::json(bool indented) const {
    std::string made;
    try {
        write(made, indented ? 0 : -1);
    } catch (const scalar::exception& wrong) {
        throw std::invalid_argument(wrong.what());
    }
    return made;
}

/// A level below 0 is no indenting at all.
void value::write(std::string& to, int level) const {
    const int inner = level < 0 ? level : level + 1;
    const auto each_of = [&](const auto& all, char open, char close, const auto& put) {
        to += open;
        for (std::size_t i = 0; i < all.size(); ++i) {
            if (i > 0) to += ',';
            new_line(to, inner);
            put(all[i]);
        }
        if (!all.empty()) new_line(to, level);
        to += close;
    };
    if (is_null())
        to += "null";
    else if (const auto* yes = yes_or_no())
        to += *yes ? "true" : "false";
    else if (const auto* whole = std::get_if<std::int64_t>(&of_))
        to += fmt::format("{}", *whole);
    else if (const auto* above = std::get_if<std::uint64_t>(&of_))
        to += fmt::format("{}", *above);
    else if (const auto* real = std::get_if<double>(&of_))
        to += scalar(*real).dump();
    else if (const auto* words = text())
        to += scalar(*words).dump();
    else if (const auto* all = list())
        each_of(*all, '[', ']', [&](const value& each) { each.write(to, inner); });
    else
        each_of(*named(), '{', '}', [&](const field& each) {
            to += scalar(each.name).dump() + (level < 0 ? ":" : ": ");
            each.of.write(to, inner);
        });
}

} // namespace tarewell::desk
