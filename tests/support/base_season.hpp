#pragma once
#include "intake/intake.hpp"
#include "support.hpp"

#include <map>

namespace tarewell::tests {

/// A small whole season of the invented Kestrel Basin, by file name. In it: registration R1 (96 x 30 ft,
/// three bundles worked out at 57.600 lb each) and R2 (no sizes, own estimates); B1 and B2 accepted,
/// B4 held; bale L1 of B1 and B2, weighed by T1 and shipped as SH1.
inline const std::map<std::string, std::string>& base_files() {
    static const std::map<std::string, std::string> files{
        {"award.csv", "award,agency,program,region,begins,ends,goal_tons,quarter_starts,unit,match_percent,"
                      "match_base,indirect_percent,counted_when\n"
                      "KB-26,Basin Agency,Kestrel Basin film,KB,2026-01-01,2026-12-31,30,1,lb,20,total,10,\n"},
        {"sites.csv", "site,name,town\nS1,Old Creamery,Wend\nS2,Nursery lot,Aldwend\n"},
        {"growers.csv", "grower,name,farm,town,region,email,phone\n"
                        "G1,Ruth Ames,Hollow Farm,Wend,KB,ruth@example.org,555-0100\n"
                        "G2,Ib Orn,,Aldwend,KB,,\n"},
        {"scales.csv", "scale,class,capacity,division,unit\nP1,III,5000,1,lb\n"},
        {"covers.csv", "registration,date,grower,site,cover,length_ft,width_ft,layers\n"
                       "R1,2026-05-01,G1,S1,1,96,30,1\nR2,2026-05-02,G2,S1,1,,,\n"},
        {"bundles.csv", "bundle,registration,number,of,estimate,unit\n"
                        "B1,R1,1,3,,\nB2,R1,2,3,,\nB3,R1,3,3,,\nB4,R2,1,3,40,lb\nB5,R2,2,3,41.5,lb\n"},
        {"receipts.csv", "receipt,date,site,bundle,registration,number,outcome\n"
                         "RC1,2026-05-10,S1,B1,,,accepted\nRC2,2026-05-11,S1,,R1,2,accepted\n"
                         "RC3,2026-05-12,S1,B4,,,held\n"},
        {"hauls.csv", "haul,date,from,to,bundle,driver\nH1,2026-05-15,S1,S2,B1,Ola\nH1,2026-05-15,S1,S2,B2,Ola\n"},
        {"bales.csv", "bale,date,site,bundle\nL1,2026-05-20,S2,B1\nL1,2026-05-20,S2,B2\n"},
        {"rejects.csv", "reject,date,stage,bundle,bale,weight,unit,reason\nJ1,2026-05-30,processor,,L1,5,lb,twine\n"},
        {"shipments.csv", "shipment,date,processor,bale,carrier,bill_of_lading\n"
                          "SH1,2026-05-25,Fen Polymer,L1,Low Road,BOL1\n"},
        {"tickets.csv", "ticket,date,scale,weighs,subject,gross,tare,net,unit,entry\n"
                        "T1,2026-05-21,P1,bale,L1,150,40,110,lb,printed\n"},
        {"acceptances.csv", "shipment,date,weight,unit\nSH1,2026-06-01,105,lb\n"},
        {"budget.csv", "category,grant,match\npersonnel,5900.00,900.00\ntravel,100,0\n"},
        {"costs.csv", "cost,date,category,description,amount,fund\nC1,2026-05-03,personnel,sorting,100.50,grant\n"},
        {"inkind.csv", "inkind,date,kind,giver,site,quantity,rate\nI1,2026-05-04,hours,Ola,S1,2,31.80\n"}};
    return files;
}

/// The base season on the disk, and an empty ledger beside it.
class base_season {
  public:
    base_season() : ledger_{ledger::ledger_file::create(folder_.file("basin.tarewell"))} {
        for (const auto& [name, text] : base_files())
            folder_.write(name, text);
    }
    [[nodiscard]] const temporary_folder& folder() const { return folder_; }
    [[nodiscard]] ledger::ledger_file& ledger() { return ledger_; }
    [[nodiscard]] records::entry_no head() const { return ledger_.head().seq; }

    std::vector<intake::file_summary> take_all(const intake::intake_options& options = {}) {
        return intake::take_season(ledger_, folder_.path(), around_, options);
    }
    /// Takes in the text as the one file of its kind.
    intake::file_summary take(records::kind which, const std::string& text, const intake::intake_options& options = {}) {
        const auto path = folder_.write(std::string{records::info(which).file} + ".csv", text);
        return intake::take_file(ledger_, which, path, around_, options);
    }
    /// The lines of the refusal of `body`, without the folder's name.
    template <class Body> std::vector<std::string> refusals_of(Body&& body) const {
        try {
            body();
        } catch (const records::refused& refusal) {
            auto lines = refusal.lines();
            for (auto& line : lines)
                if (line.starts_with(folder_.path())) line.erase(0, folder_.path().size() + 1);
            return lines;
        }
        return {};
    }
    std::vector<std::string> refusals(records::kind which, const std::string& text) {
        return refusals_of([&] { take(which, text); });
    }
    std::vector<std::string> season_refusals() {
        return refusals_of([&] { take_all(); });
    }
    const ledger::surroundings& around() const { return around_; }

  private:
    temporary_folder folder_;
    ledger::surroundings around_ = standing_still();
    ledger::ledger_file ledger_;
};

} // namespace tarewell::tests
