#include "render/svg_canvas.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tarewell::render {

std::string escaped(std::string_view text) {
    std::string safe;
    safe.reserve(text.size());
    for (const char c : text) {
        switch (c) {
        case '&':
            safe += "&amp;";
            break;
        case '<':
            safe += "&lt;";
            break;
        case '>':
            safe += "&gt;";
            break;
        case '"':
            safe += "&quot;";
            break;
        case '\'':
            safe += "&#39;";
            break;
        default:
            safe += c;
        }
    }
    return safe;
}

std::string grouped_digits(std::string_view number) {
    const std::size_t sign = number.starts_with('-') ? 1 : 0;
    const auto end = std::min(number.find('.'), number.size());
    if (number.find_first_not_of("0123456789.", sign) != std::string_view::npos) return std::string{number};
    std::string text{number.substr(0, sign)};
    for (std::size_t i = sign; i < end; ++i) {
        if (i > sign && (end - i) % 3 == 0) text += ',';
        text += number[i];
    }
    return text.append(number.substr(end));
}

std::vector<double> ticks(double low, double high, int wanted) {
    if (!(high > low)) high = low + 1;
    const double rough = (high - low) / wanted;
    const double power = std::pow(10.0, std::floor(std::log10(rough)));
    double step = 10 * power;
    for (const double part : {1.0, 2.0, 2.5, 5.0})
        if (part * power >= rough * 0.999) {
            step = part * power;
            break;
        }
    std::vector<double> places;
    const auto first = static_cast<long long>(std::floor(low / step + 1e-9));
    const auto last = static_cast<long long>(std::ceil(high / step - 1e-9));
    for (long long i = first; i <= last; ++i)
        places.push_back(static_cast<double>(i) * step);
    return places;
}

std::string tick_text(double tick, double step) {
    int decimals = 0;
    while (decimals < 6 &&
           std::abs(step - std::round(step * std::pow(10, decimals)) / std::pow(10, decimals)) > step * 1e-6)
        ++decimals;
    return grouped_digits(fmt::format("{:.{}f}", tick == 0 ? 0.0 : tick, decimals));
}

double axis::place(double value) const { return from + (value - low) / (high - low) * (to - from); }

axis axis_over(double low, double high, double from, double to, int wanted, bool counts) {
    axis made;
    made.at = ticks(low, high, wanted);
    if (counts && made.step() < 1) { // half a bundle is no place on an axis
        made.at.clear();
        for (double at = std::floor(low); at < high || made.at.size() < 2; ++at)
            made.at.push_back(at);
        if (made.at.back() < high) made.at.push_back(made.at.back() + 1);
    }
    made.low = made.at.front();
    made.high = made.at.back();
    made.from = from;
    made.to = to;
    return made;
}

} // namespace tarewell::render
