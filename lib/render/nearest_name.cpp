#include "render/form_check.hpp"

#include <algorithm>
#include <numeric>
#include <utility>

namespace tarewell::render {

std::string nearest_name(std::string_view wrong, const std::vector<std::string>& known) {
    std::string best;
    std::size_t least = std::string::npos;
    std::vector<std::size_t> row;
    for (const auto& each : known) {
        const auto longer = std::max(wrong.size(), each.size()) - std::min(wrong.size(), each.size());
        if (longer >= least) continue; // at least so many letters differ
        row.assign(each.size() + 1, 0);
        std::iota(row.begin(), row.end(), std::size_t{0});
        for (std::size_t i = 0; i < wrong.size(); ++i) {
            std::size_t corner = std::exchange(row[0], i + 1);
            std::size_t fewest = row[0];
            for (std::size_t j = 0; j < each.size(); ++j) {
                const auto changed = corner + (wrong[i] == each[j] ? 0 : 1);
                corner = row[j + 1];
                row[j + 1] = std::min({changed, row[j] + 1, row[j + 1] + 1});
                fewest = std::min(fewest, row[j + 1]);
            }
            if (fewest >= least) break; // it only grows
        }
        if (row.back() < least) least = row.back(), best = each;
    }
    return best;
}

} // namespace tarewell::render
