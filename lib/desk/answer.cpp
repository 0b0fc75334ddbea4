#include "desk/answer.hpp"

#include <algorithm>

namespace tarewell::desk {
namespace {

/// Characters, not bytes: continuation bytes of UTF-8 take no place.
std::size_t width(const std::string& text) {
    return static_cast<std::size_t>(std::count_if(
        text.begin(), text.end(), [](char c) { return (static_cast<unsigned char>(c) & 0xC0U) != 0x80U; }));
}

bool is_number(const std::string& text) {
    return !text.empty() && text.find_first_not_of("0123456789.,-%$ ") == std::string::npos;
}

} // namespace

table::table(const std::vector<std::string>& columns) {
    for (const auto& each : columns) {
        const auto cut = each.find('=');
        if (cut == std::string::npos)
            columns_.push_back({each, each});
        else
            columns_.push_back({each.substr(0, cut), each.substr(cut + 1), cut > 0});
    }
}

void table::add(std::vector<cell> cells) {
    for (auto& cell : cells)
        for (auto& c : cell.text)
            if (c == '\n' || c == '\r' || c == '\t') c = ' ';
    rows_.push_back(std::move(cells));
}

std::string table::text() const {
    std::vector<std::size_t> shown;
    std::vector<std::size_t> widths;
    std::vector<bool> numbers;
    for (std::size_t c = 0; c < columns_.size(); ++c) {
        if (!columns_[c].for_people) continue;
        shown.push_back(c);
        widths.push_back(width(columns_[c].heading));
        numbers.push_back(!rows_.empty());
        for (const auto& row : rows_) {
            const auto& text = row[c].text;
            widths.back() = std::max(widths.back(), width(text));
            if (!text.empty() && !is_number(text)) numbers.back() = false;
        }
    }
    std::string made;
    const auto add_line = [&](const auto& text_of) {
        std::string line;
        for (std::size_t i = 0; i < shown.size(); ++i) {
            const std::string& text = text_of(shown[i]);
            const std::string gap(widths[i] - width(text), ' ');
            line += numbers[i] ? gap + text : text + gap;
            if (i + 1 < shown.size()) line += "  ";
        }
        line.erase(line.find_last_not_of(' ') + 1);
        made += line + '\n';
    };
    add_line([&](std::size_t c) -> const std::string& { return columns_[c].heading; });
    for (const auto& row : rows_)
        add_line([&](std::size_t c) -> const std::string& { return row[c].text; });
    return made;
}

value table::rows() const {
    auto list = value::array();
    for (const auto& row : rows_) {
        auto made = value::object();
        for (std::size_t c = 0; c < columns_.size(); ++c)
            if (!columns_[c].name.empty() && !row[c].left_out) made[columns_[c].name] = row[c].of;
        list.push_back(std::move(made));
    }
    return list;
}

std::string counted(std::size_t count, const char* one, const char* many) {
    return fmt::format("{} {}", count, count == 1 ? one : many);
}

} // namespace tarewell::desk
