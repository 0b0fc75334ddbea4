#pragma once

#include <fstream>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "audit/pooled_season.hpp"

// Reads seasons as the oracle's R script writes them: "bale,grower,site,e" and "bale,w", from 1.
namespace tarewell::tests {

inline std::vector<std::vector<double>> read_numbers(const std::string &path) {
    std::ifstream file(path);
    if (!file) {
        throw std::runtime_error("cannot read " + path);
    }
    std::vector<std::vector<double>> rows;
    std::string line;
    std::getline(file, line);
    while (std::getline(file, line)) {
        std::istringstream cells(line);
        std::string cell;
        rows.emplace_back();
        while (std::getline(cells, cell, ',')) {
            rows.back().push_back(std::stod(cell));
        }
    }
    return rows;
}

inline audit::pooled_season read_season(const std::string &bundles, const std::string &bales,
                                        int growers, int sites) {
    audit::pooled_season season;
    season.growers = growers;
    season.sites = sites;
    season.bases = 1;
    for (const auto &row : read_numbers(bales)) {
        season.bales.push_back({row.at(1), 0.0});
    }
    for (const auto &row : read_numbers(bundles)) {
        season.bundles.push_back({static_cast<int>(row.at(0)) - 1, static_cast<int>(row.at(1)) - 1,
                                  static_cast<int>(row.at(2)) - 1, 0, row.at(3)});
    }
    return season;
}

inline audit::pooled_season oracle_season() {
    const std::string folder = std::string(TAREWELL_SOURCE_DIR) + "/tests/audit/data/";
    return read_season(folder + "oracle_bundles_seed7.csv", folder + "oracle_bales_seed7.csv", 100,
                       16);
}

} // namespace tarewell::tests
