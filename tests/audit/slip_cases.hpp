#pragma once

#include <algorithm>
#include <fstream>
#include <map>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "audit/slips.hpp"
#include "paths.hpp"

namespace tarewell::tests {

// A season of tests/audit/data/slips (bundle,bale,grower,registration,site,class,estimate and bale,net) with its names.
struct slip_case {
    audit::slip_season season;
    std::vector<std::string> bales, growers, registrations, sites, classes;
};

inline std::vector<std::vector<std::string>> read_cells(const std::string& path) {
    std::ifstream file(path);
    if (!file) {
        throw std::runtime_error("cannot read " + path);
    }
    std::vector<std::vector<std::string>> rows;
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) {
        std::istringstream cells(line);
        rows.emplace_back();
        for (std::string cell; std::getline(cells, cell, ',');) {
            rows.back().push_back(cell);
        }
    }
    return rows;
}

inline int place_of(const std::vector<std::string>& names, const std::string& name) {
    return static_cast<int>(std::find(names.begin(), names.end(), name) - names.begin());
}

inline slip_case read_slip_case(const std::string& name) {
    const std::string start = source_path("tests/audit/data/slips/" + name);
    const auto bundles = read_cells(start + "_bundles.csv");
    slip_case made;
    const auto names = [&](std::size_t column) {
        std::vector<std::string> all;
        for (const auto& row : bundles) {
            all.push_back(row.at(column));
        }
        std::sort(all.begin(), all.end());
        all.erase(std::unique(all.begin(), all.end()), all.end());
        return all;
    };
    made.growers = names(2);
    made.registrations = names(3);
    made.sites = names(4);
    made.classes = names(5);
    auto& weighed = made.season.weighed;
    weighed.growers = static_cast<int>(made.growers.size());
    weighed.sites = static_cast<int>(made.sites.size());
    weighed.bases = static_cast<int>(made.classes.size());
    for (const auto& row : read_cells(start + "_bales.csv")) {
        made.bales.push_back(row.at(0));
        weighed.bales.push_back({std::stod(row.at(1)), 0.0});
    }
    for (const auto& row : bundles) {
        weighed.bundles.push_back({place_of(made.bales, row.at(1)), place_of(made.growers, row.at(2)),
                                   place_of(made.sites, row.at(4)), place_of(made.classes, row.at(5)),
                                   std::stod(row.at(6))});
        made.season.registration.push_back(place_of(made.registrations, row.at(3)));
    }
    return made;
}

} // namespace tarewell::tests
