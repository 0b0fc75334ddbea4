#pragma once
#include "reckoned_season.hpp"

namespace tarewell::tests {

/// A season of the invented Kestrel Basin in which a reviewer would find nothing to ask about.
/// R1 (96 x 30 ft) has bundles B1 to B3 at 57.600 lb each, read in a secondary source, (48 x 30 ft) B4 and B5 at 43.200
/// lb each (computed, at 0.04 lb/ft2 and factor 1.5). Bale L1 is B1, B2 and B4 (158.400 lb), weighed 150 lb; bale L2 is
/// B3 and B5 (100.800 lb), weighed 110 lb; both are shipped as SH1.
inline const season_files& quiet_season() {
    static const season_files files{
        {"award.csv", "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit,match_percent,"
                      "match_base,indirect_percent,counted_when\n"
                      "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb,20,total,10,\n"},
        {"sites.csv", "site,name,town\nS1,Old Creamery,Wend\nS2,Nursery lot,Aldwend\nS3,Mill yard,Fen\n"},
        {"growers.csv", "grower,name,region\nG1,Ruth Ames,KB\nG2,Ib Orn,KB\n"},
        {"scales.csv", "scale,class,capacity,division,unit,certified_on,certified_until\n"
                       "P1,III,5000,1,lb,2026-01-01,2026-12-31\n"},
        {"covers.csv", "registration,date,grower,site,cover,length_ft,width_ft,layers,film\n"
                       "R1,2026-05-01,G1,S1,1,96,30,1,\nR2,2026-05-02,G2,S1,1,48,30,1,\n"},
        {"bundles.csv", "bundle,registration,number,of,estimate,unit\n"
                        "B1,R1,1,3,,\nB2,R1,2,3,,\nB3,R1,3,3,,\nB4,R2,1,2,,\nB5,R2,2,2,,\n"},
        {"receipts.csv", "receipt,date,site,bundle,outcome,reason,disposition\n"
                         "RC1,2026-05-10,S1,B1,accepted,,\nRC2,2026-05-11,S1,B2,accepted,,\n"
                         "RC3,2026-05-12,S1,B3,accepted,,\nRC4,2026-05-13,S1,B4,accepted,,\n"
                         "RC5,2026-05-14,S1,B5,accepted,,\n"},
        {"hauls.csv", "haul,date,from,to,bundle\n"
                      "H1,2026-05-15,S1,S2,B1\nH1,2026-05-15,S1,S2,B2\nH1,2026-05-15,S1,S2,B3\n"
                      "H1,2026-05-15,S1,S2,B4\nH1,2026-05-15,S1,S2,B5\n"},
        {"bales.csv", "bale,date,site,bundle\nL1,2026-05-20,S2,B1\nL1,2026-05-20,S2,B2\nL1,2026-05-20,S2,B4\n"
                      "L2,2026-05-21,S2,B3\nL2,2026-05-21,S2,B5\n"},
        {"rejects.csv", "reject,date,stage,bundle,bale,weight,unit,reason,disposition\n"},
        {"shipments.csv",
         "shipment,date,processor,bale\nSH1,2026-05-25,Fen Polymer,L1\nSH1,2026-05-25,Fen Polymer,L2\n"},
        {"tickets.csv", "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry,as_printed\n"
                        "T1,2026-05-22,P1,bale,L1,190,40,150,lb,printed,\n"
                        "T2,2026-05-22,P1,bale,L2,150,40,110,lb,printed,\n"},
        {"acceptances.csv", "shipment,date,weight,unit\nSH1,2026-06-01,255,lb\n"},
        {"budget.csv", "category,grant,match\npersonnel,5900.00,900.00\ntravel,100,0\n"},
        {"costs.csv",
         "cost,date,category,description,amount,fund,document\nC1,2026-05-03,personnel,sorting,100.50,grant,inv 1\n"},
        {"inkind.csv",
         "inkind,date,kind,giver,site,quantity,rate,document\nI1,2026-05-04,hours,Ola,S1,2,31.80,sheet 1\n"},
        {"settings.csv", "setting,from,value\n"}};
    return files;
}

/// One more registration, R3, of grower G1 (48 x 30 ft), and its bundles as rows of bundles.csv.
inline season_files with_registration(const season_files& files, std::string_view bundle_rows,
                                      std::string_view grower = "G1") {
    return added(added(files, "covers.csv", fmt::format("R3,2026-05-05,{},S1,1,48,30,1,\n", grower)), "bundles.csv",
                 bundle_rows);
}

} // namespace tarewell::tests
