#include "intake/header.hpp"

#include "records/nearest_name.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::intake {

bool read_header(const std::vector<std::string_view>& names, records::kind which, std::vector<std::size_t>& places,
                 const records::complaint& complain) {
    const auto& kind = records::info(which);
    if (names.size() == 1 && names[0].find_first_of(";\t") != std::string_view::npos) {
        complain(kind.columns[kind.key[0]].name, "the columns are not set apart by commas",
                 "save the sheet as CSV UTF-8 with commas");
        return false;
    }
    std::vector<bool> seen(kind.columns.size());
    bool good = true;
    for (const auto name : names) {
        const auto place = kind.find_in_header(name);
        places.push_back(place.value_or(0));
        if (place && !seen[*place]) {
            seen[*place] = true;
            continue;
        }
        good = false;
        if (place) {
            complain(name, "stands twice in the header", "name each column once");
            continue;
        }
        std::vector<std::string> known_names;
        for (const auto& column : kind.columns)
            known_names.emplace_back(column.name);
        complain(name.empty() ? "(no name)" : name, "is no column of this file",
                 fmt::format("the columns are {}{}", fmt::join(known_names, ", "),
                             records::did_you_mean(name, known_names)));
    }
    for (std::size_t i = 0; i < seen.size(); ++i)
        if (!seen[i] && kind.columns[i].required) {
            complain(kind.columns[i].name, "the column is missing", "add it to the header");
            good = false;
        }
    return good;
}

} // namespace tarewell::intake
