#include "examples.hpp"

#include "records/kinds.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::cli {
namespace {

const std::map<std::string_view, std::string_view>& written() {
    static const std::map<std::string_view, std::string_view> examples{
        {"new", "new kestrel.tarewell"},
        {"intake", "intake season sample_data/season"},
        {"intake map", "intake map form --file sample_data/form.toml"},
        {"undo", "undo 24 --preview"},
        {"settings", "settings"},
        {"settings set", "settings set bundle_aim_lb 45 --from 2026-07-01 --why 'the new cart takes less'"},
        {"estimate", "estimate --length 96 --width 30 --layers 2 --mil 6 --name 'Thea Garrowby'"},
        {"reconcile", "reconcile --by grower --quarter 2026-Q2"},
        {"flags", "flags --quarter 2026-Q2"},
        {"quarter show", "quarter show 2026-Q2"},
        {"quarter across", "quarter across 2026"},
        {"quarter pace", "quarter pace 2026"},
        {"quarter workbook", "quarter workbook 2026-Q2 2026-Q2.xlsx"},
        {"quarter page", "quarter page 2026-Q2 2026-Q2.html"},
        {"quarter close", "quarter close 2026-Q2 --prepared-by 'Ida Brack' --reviewed-by 'Sol Fenn' --certified-by "
                          "'Mara Quist' --accept baled-not-received='found on the lot, sheet of July 2'"},
        {"quarter withdraw", "quarter withdraw 2026-Q2 --why 'the agency asked for the hauling costs again'"},
        {"quarter restate", "quarter restate 2026-Q2"},
        {"quarter note", "quarter note 2026-Q2 problems 'One site took film with drip tape still in it.'"},
        {"list", "list tickets"},
        {"enter", "enter tickets"},
        {"due", "due"},
        {"settle", "settle SH01"},
        {"sites", "sites --on 2026-10-03"},
        {"office", "office"},
        {"register", "register 'Thea Garrowby' --site 'pell crossing' --cover 96x30 --mil 6 --date 2026-10-05"},
        {"growers history", "growers history G017"},
        {"growers merge", "growers merge G017 G019 --why 'one person, registered twice'"},
        {"rollup", "rollup kestrel.tarewell hollow.tarewell --quarter 2026-Q2 --page 2026-Q2.html"},
        {"report", "report certification 2026-Q2 certification.html"},
        {"report forms", "report forms"},
        {"report names", "report names"},
        {"report fill", "report fill sample_data/agency_form.xlsx 2026-Q2 agency-2026-Q2.xlsx"},
        {"report check", "report check my_letter.mustache"},
        {"costs", "costs 2026"},
        {"print labels", "print labels labels.html --stock 4x2in --start 3"},
        {"print bale-tags", "print bale-tags tags.html --next 4"},
        {"print check-in", "print check-in check-in.html --site 'pell crossing' --on 2026-10-03"},
        {"print haul", "print haul haul.html --to 'alder fork' --on 2026-10-03"},
        {"print baler", "print baler baler.html --next 4"},
        {"print scale-log", "print scale-log scale-log.html --paper a4"},
        {"print hours", "print hours hours.html --site S03"},
        {"print mileage", "print mileage mileage.html"},
        {"print rejection", "print rejection rejected.html --since 2026-06-01"},
        {"print pick-up", "print pick-up pick-up.csv"},
        {"print thanks", "print thanks thanks.html --site S01 --quarter 2026-Q3"},
        {"print statement", "print statement statement.html --grower G002 --quarter 2026-Q3 --names"},
        {"trace", "trace diverted_weight --quarter 2026-Q2"},
        {"ledger history", "ledger history ticket T0004"},
        {"ledger check", "ledger check"},
        {"ledger head", "ledger head"},
        {"ledger backup", "ledger backup backups/kestrel-2026-10-03.tarewell"},
        {"ledger restore", "ledger restore backups/kestrel-2026-10-03.tarewell"},
        {"ledger move", "ledger move kestrel.tarewell postgresql:///kestrel"},
        {"ledger roles", "ledger roles"},
        {"ledger evidence", "ledger evidence 2026-Q2 evidence-2026-Q2"},
        {"growers export", "growers export growers.csv"},
        {"growers erase", "growers erase G017 --why 'asked for by letter on 2027-03-02'"},
        {"document attach", "document attach ticket T0004 scans/T0004.pdf"},
        {"document list", "document list"},
        {"award calendar", "award calendar"},
        {"award budget", "award budget"},
        {"award requests", "award requests"},
        {"award rates", "award rates --on 2026-06-30"},
        {"audit growers", "audit growers --quarter 2026-Q2"},
        {"audit letter", "audit letter G017 --quarter 2026-Q2"},
        {"audit sites", "audit sites"},
        {"audit constants", "audit constants"},
        {"audit bales", "audit bales --quarter 2026-Q2"},
        {"audit scales", "audit scales"},
        {"audit total", "audit total --quarter 2026-Q2"},
        {"audit next", "audit next --weigh 10"},
        {"audit sample", "audit sample --method attribute --quarter 2026-Q2 --seed 7"},
        {"audit page", "audit page audit.html --quarter 2026-Q2"},
        {"audit confirm", "audit confirm ticket T0004 --why 'the printed ticket was seen'"},
        {"reference", "reference"},
    };
    return examples;
}

/// What is typed after `record KIND`.
const std::map<std::string_view, std::string_view>& recorded() {
    static const std::map<std::string_view, std::string_view> examples{
        {"award", "--award KB-26-014 --agency 'Basin Environmental Agency' --program 'Kestrel Basin farm film "
                  "collection' --region KB --begins 2026-04-01 --ends 2027-06-30 --goal_tons 13 --quarter_starts 1 --unit lb "
                  "--match_percent 25 --match_base total"},
        {"site", "--site S10 --name 'Sallow Lane yard' --opens 07:30 --closes 15:30 --capacity_lb 8000"},
        {"grower", "--grower G090 --name 'Wren Ashdown' --town 'Alder Fork' --region KB --phone 555-0190"},
        {"scale", "--scale SC6 --class III --capacity 5000 --division 1 --unit lb --certified_on 2026-02-11 --certified_until "
                  "2027-02-28"},
        {"cover", "--registration R200 --date 2026-10-01 --grower G017 --site S03 --cover 1 --structure 'high tunnel' "
                  "--length_ft 96 --width_ft 30 --layers 1 --mil 6"},
        {"bundle", "--bundle R200-1 --registration R200 --number 1 --of 5"},
        {"receipt", "--receipt RC0900 --date 2026-10-03 --site S03 --bundle R200-1 --outcome accepted"},
        {"haul", "--haul H090 --date 2026-10-05 --from S03 --to S01 --bundle R200-1 --driver 'Dell Rourke'"},
        {"bale", "--bale B090 --date 2026-10-06 --site S01 --bundle R200-1"},
        {"reject",
         "--reject J090 --date 2026-10-05 --stage site --bundle R200-2 --reason soil --disposition landfilled"},
        {"shipment", "--shipment SH09 --date 2026-10-20 --processor 'Low Fen Resin Works' --bale B090"},
        {"ticket", "--ticket T0090 --date 2026-10-07 --scale SC1 --weighs bale --subject B090 --gross 431 --tare 35 "
                   "--net 396 --unit lb --entry printed --document SC1-00090"},
        {"acceptance", "--shipment SH09 --date 2026-10-29 --weight 2510 --unit lb --document settlement-SH09"},
        {"budget", "--category travel --grant 1750 --match 800"},
        {"cost", "--cost C090 --date 2026-10-05 --category contractual --description 'hauling, two trips' --amount 240 "
                 "--fund grant --paid_on 2026-10-12 --document 'inv 77'"},
        {"inkind", "--inkind K090 --date 2026-10-03 --kind hours --giver 'Odile Fenn' --quantity 2.5 --rate 36.14 "
                   "--document 'sign-in sheet S02'"},
        {"setting", "--setting bundle_aim_lb --from 2026-10-01 --value 45"},
        {"amendment", "--amendment A2 --date 2026-10-01 --ends 2027-09-30 --description 'three months more'"},
        {"rebudget", "--amendment A2 --category travel --grant 1250 --match 800"},
        {"rate", "--rate RT9 --kind miles --begins 2026-07-01 --value 0.70 --source 'the county rate table'"},
        {"obligation", "--obligation OB9 --date 2026-10-01 --category contractual --description 'baler hire' --amount "
                       "1680 --fund grant"},
        {"liquidation", "--liquidation LQ90 --date 2026-10-31 --obligation OB9 --amount 560 --cost C090"},
        {"income", "--income IN9 --date 2026-10-30 --kind earned --method addition --description 'bales sold' --amount "
                   "212.40"},
        {"request", "--request RQ9 --date 2026-10-15 --cost C090 --indirect 24.00"},
        {"payment", "--payment PY9 --date 2026-10-25 --kind reimbursement --amount 264 --request RQ9"},
        {"narrative", "--quarter 2026-Q4 --part done --text 'Nine sites closed for the winter.'"},
        {"map", "--map form --rule dates --value mdy"},
        {"merge", "--grower G017 --into G019 --reason 'one person, registered twice'"},
        {"confirmation", "--confirms ticket --record T0004 --seen 'the printed ticket was seen'"},
    };
    return examples;
}

const records::kind_info* kind_named(std::string_view name) {
    for (const auto& each : records::all_kinds())
        if (each.name == name || each.file == name) return &each;
    return nullptr;
}

/// "ticket T0004": a kind and its key, as `correct` and `void` take them.
std::string key_of(const records::kind_info& kind) {
    static const std::map<std::string_view, std::string_view> ids{{"award", "KB-26-014"},
                                                                  {"site", "S03"},
                                                                  {"grower", "G017"},
                                                                  {"scale", "SC1"},
                                                                  {"cover", "R016 1"},
                                                                  {"bundle", "R016-1"},
                                                                  {"receipt", "RC0001"},
                                                                  {"haul", "H001 R003-1"},
                                                                  {"bale", "B001 R014-1"},
                                                                  {"reject", "J001"},
                                                                  {"shipment", "SH01 B001"},
                                                                  {"ticket", "T0004"},
                                                                  {"acceptance", "SH01"},
                                                                  {"budget", "travel"},
                                                                  {"cost", "C012"},
                                                                  {"inkind", "K001"},
                                                                  {"setting", "bundle_aim_lb 2026-07-01"},
                                                                  {"amendment", "A1"},
                                                                  {"rebudget", "A1 travel"},
                                                                  {"rate", "RT1"},
                                                                  {"obligation", "OB1"},
                                                                  {"liquidation", "LQ01"},
                                                                  {"income", "IN1"},
                                                                  {"request", "RQ1 C002"},
                                                                  {"payment", "PY1"},
                                                                  {"narrative", "2026-Q2 done"},
                                                                  {"merge", "G017"},
        {"map", "form dates"},
        {"confirmation", "ticket T0004"}};
    const auto known = ids.find(kind.name);
    return known == ids.end() ? std::string{kind.name} : std::string{known->second};
}

/// A change that one might make to a record of the kind.
std::string_view change_of(const records::kind_info& kind) {
    const auto has = [&](std::string_view column) {
        for (const auto& each : kind.columns)
            if (each.name == column) return true;
        return false;
    };
    if (has("net")) return "--net 298";
    if (has("amount")) return "--amount 184.50";
    if (has("name")) return "--name 'Millbrook Yard'";
    if (has("date")) return "--date 2026-06-11";
    if (has("value")) return "--value 45";
    return {};
}

} // namespace

std::string example_of(const std::string& path) {
    const auto space = path.find(' ');
    const auto first = path.substr(0, space), second = space == std::string::npos ? "" : path.substr(space + 1);
    if (const auto found = written().find(path); found != written().end())
        return "tarewell " + std::string{found->second};
    const auto* kind = kind_named(second);
    if (kind == nullptr) return {};
    if (first == "record") {
        const auto found = recorded().find(kind->name);
        return found == recorded().end() ? std::string{}
                                         : fmt::format("tarewell record {} {}", kind->name, found->second);
    }
    if (first == "list") return fmt::format("tarewell list {}", second);
    if (first == "void") return fmt::format("tarewell void {} {} --why 'typed twice'", kind->name, key_of(*kind));
    if (first != "correct") return {};
    const auto change = change_of(*kind);
    return fmt::format("tarewell correct {} {}{}{} --why 'as the paper says'", kind->name, key_of(*kind),
                       change.empty() ? "" : " ", change);
}

} // namespace tarewell::cli
