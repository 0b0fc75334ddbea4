#pragma once

#include <filesystem>
#include <fstream>
#include <iomanip>
#include <sstream>
#include <stdexcept>
#include <string>
#include <vector>

#include "audit/pooled_season.hpp"
#include "paths.hpp"

// Reads seasons as compare_lme4.R does: "bale,grower,site,e" and "bale,w", from 1.
namespace tarewell::tests {

inline std::vector<std::vector<double>> read_numbers(const std::string& path) {
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

inline audit::pooled_season read_season(const std::string& bundles, const std::string& bales, int growers, int sites) {
    audit::pooled_season season;
    season.growers = growers;
    season.sites = sites;
    season.bases = 1;
    for (const auto& row : read_numbers(bales)) {
        season.bales.push_back({row.at(1), 0.0});
    }
    for (const auto& row : read_numbers(bundles)) {
        season.bundles.push_back({static_cast<int>(row.at(0)) - 1, static_cast<int>(row.at(1)) - 1,
                                  static_cast<int>(row.at(2)) - 1, 0, row.at(3)});
    }
    return season;
}

inline audit::pooled_season seed_7_season() {
    const std::string folder = source_path("tests/audit/data/");
    return read_season(folder + "bundles_seed7.csv", folder + "bales_seed7.csv", 100, 16);
}

// What compare_lme4.R reads: bundles_<k>.csv and bales_<k>.csv, numbered from 1.
inline void write_lme4_files(const audit::pooled_season& season, const std::filesystem::path& folder, int k) {
    std::ofstream bundles(folder / ("bundles_" + std::to_string(k) + ".csv"));
    bundles << "bale,grower,site,e\n" << std::setprecision(17);
    for (const auto& bundle : season.bundles) {
        bundles << bundle.bale + 1 << ',' << bundle.grower + 1 << ',' << bundle.site + 1 << ',' << bundle.estimate
                << '\n';
    }
    std::ofstream bales(folder / ("bales_" + std::to_string(k) + ".csv"));
    bales << "bale,w\n" << std::setprecision(17);
    for (std::size_t b = 0; b < season.bales.size(); ++b) {
        bales << b + 1 << ',' << season.bales[b].net << '\n';
    }
}

} // namespace tarewell::tests
