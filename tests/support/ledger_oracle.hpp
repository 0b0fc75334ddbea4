#pragma once
#include "audit/slip_cases.hpp"
#include "season_files.hpp"
#include "support.hpp"

#include <fmt/format.h>

#include <map>
#include <set>
#include <string>

namespace tarewell::tests {

/// Writes the data set of lme4's reference fit (data/, seed 7) as a season of CSV files: own estimates, one ticket a
/// bale.
inline void write_oracle_season(const temporary_folder& to) {
    const std::string folder = source_path("tests/audit/data/");
    const auto bundles = read_numbers(folder + "bundles_seed7.csv");
    std::string sites = "site,name\n", growers = "grower,name,region\n";
    for (int i = 1; i <= 16; ++i)
        sites += fmt::format("S{0},Site {0}\n", i);
    for (int i = 1; i <= 100; ++i)
        growers += fmt::format("G{0},Grower {0},KB\n", i);
    std::map<std::pair<int, int>, int> of, number;
    for (const auto& row : bundles)
        ++of[{static_cast<int>(row[1]), static_cast<int>(row[2])}];
    std::string covers = "registration,date,grower,site,cover,length_ft,width_ft,layers\n";
    for (const auto& [key, count] : of)
        covers += fmt::format("R{0}-{1},2026-02-01,G{0},S{1},1,,,\n", key.first, key.second);
    std::string rows = "bundle,registration,number,of,estimate,unit\n", receipts = "receipt,date,site,bundle,outcome\n",
                bales = "bale,date,site,bundle\n", tickets = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    int id = 0;
    for (const auto& row : bundles) {
        const std::pair key{static_cast<int>(row[1]), static_cast<int>(row[2])};
        ++id;
        rows += fmt::format("B{},R{}-{},{},{},{},lb\n", id, key.first, key.second, ++number[key], of[key], row[3]);
        receipts += fmt::format("RC{0},2026-03-01,S{1},B{0},accepted\n", id, key.second);
        bales += fmt::format("L{},2026-03-02,S1,B{}\n", static_cast<int>(row[0]), id);
    }
    for (const auto& row : read_numbers(folder + "bales_seed7.csv"))
        tickets += fmt::format("T{0},2026-03-03,P1,bale,L{0},{1},lb,printed\n", static_cast<int>(row[0]), row[1]);
    to.write("award.csv", "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                          "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb\n");
    to.write("scales.csv", "scale,class,capacity,division,unit\nP1,III,5000,1,lb\n");
    to.write("sites.csv", sites);
    to.write("growers.csv", growers);
    to.write("covers.csv", covers);
    to.write("bundles.csv", rows);
    to.write("receipts.csv", receipts);
    to.write("bales.csv", bales);
    to.write("tickets.csv", tickets);
}

/// Writes a season of data/slips as CSV files: own estimates, the class as the covers' structure, bale L001's ticket
/// T001.
inline void write_slip_season(const temporary_folder& to, const std::string& name) {
    const std::string start = source_path("tests/audit/data/slips/" + name);
    const auto given = read_cells(start + "_bundles.csv");
    std::map<std::string, int> of, number;
    std::set<std::string> site_ids, grower_ids;
    for (const auto& row : given) {
        ++of[row[3]];
        site_ids.insert(row[4]);
        grower_ids.insert(row[2]);
    }
    std::string sites = "site,name\nP,Press\n", growers = "grower,name,region\n";
    for (const auto& id : site_ids)
        sites += fmt::format("{0},Site {0}\n", id);
    for (const auto& id : grower_ids)
        growers += fmt::format("{0},Grower {0},KB\n", id);
    std::string covers = "registration,date,grower,site,cover,structure,length_ft,width_ft,layers\n";
    std::string rows = "bundle,registration,number,of,estimate,unit\n", receipts = "receipt,date,site,bundle,outcome\n",
                bales = "bale,date,site,bundle\n", tickets = "ticket,date,scale,weighs,subject,net,unit,entry\n";
    for (const auto& row : given) {
        if (++number[row[3]] == 1)
            covers += fmt::format("{},2026-02-01,{},{},1,{},,,\n", row[3], row[2], row[4], row[5]);
        rows += fmt::format("{},{},{},{},{},lb\n", row[0], row[3], number[row[3]], of[row[3]], row[6]);
        receipts += fmt::format("C{0},2026-03-01,{1},{0},accepted\n", row[0], row[4]);
        bales += fmt::format("{},2026-03-02,P,{}\n", row[1], row[0]);
    }
    for (const auto& row : read_cells(start + "_bales.csv"))
        tickets += fmt::format("T{},2026-03-03,P1,bale,{},{},lb,printed\n", row[0].substr(1), row[0], row[1]);
    to.write("award.csv", "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit\n"
                          "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb\n");
    to.write("scales.csv", "scale,class,capacity,division,unit\nP1,III,5000,1,lb\n");
    for (const auto& [file, text] : {std::pair{"sites.csv", sites},
                                     {"growers.csv", growers},
                                     {"covers.csv", covers},
                                     {"bundles.csv", rows},
                                     {"receipts.csv", receipts},
                                     {"bales.csv", bales},
                                     {"tickets.csv", tickets}})
        to.write(file, text);
}

} // namespace tarewell::tests
