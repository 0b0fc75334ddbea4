#include "figures/stories.hpp"

#include <algorithm>
#include <cctype>
#include <iterator>

namespace tarewell::figures {
namespace {

constexpr struct {
    std::string_view part, heading;
} usual_parts[] = {{"done", "What was done"}, {"problems", "Problems"}, {"next", "What comes next"}};

std::size_t rank(const std::string& part) {
    const auto* const found = std::find_if(std::begin(usual_parts), std::end(usual_parts),
                                           [&](const auto& each) { return each.part == part; });
    return static_cast<std::size_t>(found - std::begin(usual_parts));
}

std::string heading_of(const std::string& part) {
    if (const auto place = rank(part); place < std::size(usual_parts)) return std::string{usual_parts[place].heading};
    std::string heading = part;
    heading[0] = static_cast<char>(std::toupper(static_cast<unsigned char>(heading[0])));
    return heading;
}

std::vector<std::string> paragraphs_of(const std::string& text) {
    std::vector<std::string> paragraphs;
    for (std::size_t from = 0; from < text.size();) {
        const auto end = std::min(text.find('\n', from), text.size());
        auto line = text.substr(from, end - from);
        if (line.ends_with('\r')) line.pop_back();
        if (!line.empty()) paragraphs.push_back(std::move(line));
        from = end + 1;
    }
    return paragraphs;
}

} // namespace

std::vector<std::string> usual_parts_of_a_report() {
    std::vector<std::string> parts;
    for (const auto& each : usual_parts)
        parts.emplace_back(each.part);
    return parts;
}

std::vector<narrative_part> narrative_of(const records::season& of, const quantity::period& period) {
    auto notes = of.notes;
    // Written anew, a note keeps its place.
    std::stable_sort(notes.begin(), notes.end(), [](const auto& a, const auto& b) { return a.order < b.order; });
    std::vector<narrative_part> parts;
    for (const auto& each : notes)
        if (each.period == period) parts.push_back({each.part, heading_of(each.part), paragraphs_of(each.text)});
    std::stable_sort(parts.begin(), parts.end(),
                     [](const auto& a, const auto& b) { return rank(a.part) < rank(b.part); });
    return parts;
}

} // namespace tarewell::figures
