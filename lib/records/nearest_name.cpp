#include "records/nearest_name.hpp"

#include "records/kinds.hpp"
#include "records/letters.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace tarewell::records {

std::size_t letters_changed(std::string_view a, std::string_view b, std::size_t most) {
    const auto longer = std::max(a.size(), b.size()) - std::min(a.size(), b.size());
    if (longer > most) return most + 1; // at least so many letters differ
    const auto width = b.size() + 1;
    std::vector<std::size_t> cells(3 * width); // three rows in one block: it is called for every name there is
    auto *before_last = cells.data(), *last = before_last + width, *row = last + width;
    std::iota(last, last + width, std::size_t{0});
    for (std::size_t i = 0; i < a.size(); ++i) {
        row[0] = i + 1;
        std::size_t fewest = row[0];
        for (std::size_t j = 0; j < b.size(); ++j) {
            row[j + 1] = std::min({last[j] + (a[i] == b[j] ? 0U : 1U), row[j] + 1, last[j + 1] + 1});
            if (i > 0 && j > 0 && a[i] == b[j - 1] && a[i - 1] == b[j])
                row[j + 1] = std::min(row[j + 1], before_last[j - 1] + 1);
            fewest = std::min(fewest, row[j + 1]);
        }
        if (fewest > most + 1) return most + 1; // it only grows, and a swap looks back by one
        std::swap(before_last, last);
        std::swap(last, row);
    }
    return std::min(last[b.size()], most + 1);
}

std::string nearest_name(std::string_view wrong, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = std::string::npos - 1;
    for (const auto& each : known) {
        if (least == 0) break;
        const auto changed = letters_changed(wrong, each, least - 1);
        if (changed < least) least = changed, best = each;
    }
    return best;
}

std::vector<std::string> near_names(std::string_view wrong, const std::vector<std::string>& known) {
    const auto small = small_letters(std::string{wrong});
    const auto most = small.size() < 3 ? std::size_t{1} : small.size() < 8 ? std::size_t{2} : std::size_t{3};
    std::vector<std::pair<std::size_t, std::string>> found;
    for (const auto& each : known) {
        const auto other = small_letters(each);
        const bool begins = small.size() >= 2 && other.starts_with(small); // cut short
        const auto changed = begins ? 1 : letters_changed(small, other, most);
        if (changed <= most && changed < other.size()) found.emplace_back(changed, each);
    }
    std::stable_sort(found.begin(), found.end(), [](const auto& a, const auto& b) { return a.first < b.first; });
    std::vector<std::string> near;
    for (auto& [changed, name] : found)
        if (near.size() < 3 && changed <= found.front().first + 1) near.push_back(std::move(name));
    return near;
}

std::string did_you_mean(std::string_view wrong, const std::vector<std::string>& known) {
    std::string text;
    for (const auto& each : near_names(wrong, known))
        text += (text.empty() ? "'" : " or '") + each + "'";
    return text.empty() ? text : "; did you mean " + text + "?";
}

std::vector<std::string> names_of_kinds() {
    std::vector<std::string> names;
    for (const auto& each : recorded_kinds())
        names.emplace_back(each.name);
    return names;
}

} // namespace tarewell::records
