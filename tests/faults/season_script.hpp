#pragma once
#include "base_season.hpp"
#include "figures/closing.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/reckoning.hpp"
#include "records/season.hpp"

#include <filesystem>
#include <functional>
#include <vector>

namespace tarewell::tests {

/// Memory where there is a disk of it: thousands of ledgers are recovered, each with its syncs.
inline std::filesystem::path quick_disk() {
    const std::filesystem::path memory{"/dev/shm"};
    return std::filesystem::is_directory(memory) ? memory : std::filesystem::temp_directory_path();
}

/// One step of a season at the site's desk, as the command line does it: the ledger is opened, changed
/// and closed. Each carries an idempotency key, so that it may be done again.
struct deed_at_the_desk {
    std::string name;
    std::function<void(const std::string& path)> run;
};

inline void record_one(const std::string& path, records::kind which, const intake::named_values& values) {
    auto file = ledger::ledger_file::open(path);
    const std::string id{records::info(which).columns[0].name};
    intake::record(file, which, values, standing_still(), "record " + values.at(id));
}
inline void correct_one(const std::string& path, records::kind which, const std::vector<std::string>& key,
                        const intake::named_values& changes) {
    auto file = ledger::ledger_file::open(path);
    intake::correct(file, which, key, changes, "misread label", standing_still(), "correct " + key[0]);
}
inline void void_one(const std::string& path, records::kind which, const std::vector<std::string>& key) {
    auto file = ledger::ledger_file::open(path);
    intake::void_record(file, which, key, "entered twice", standing_still(), "void " + key[0]);
}

inline void close_one(const std::string& path, quantity::quarter quarter) {
    auto file = ledger::ledger_file::open(path);
    const auto view = figures::view_period(file, quarter, file.head().seq);
    if (view.season.closing_of(quarter) != nullptr) return;
    std::map<std::string, std::string> accepted;
    for (const auto& flag : figures::flags_that_stop(view, {}))
        accepted[std::string{flag.code}] = "looked at";
    figures::close_period(file, quarter, {"Ruth Ames", "Ib Orn", "Ola"}, {accepted}, standing_still());
}
inline void erase_one(const std::string& path, const std::string& grower) {
    auto file = ledger::ledger_file::open(path);
    intake::erase_contact(file, grower, "asked to", standing_still());
}

/// A small season from the empty disk to its closing.
inline std::vector<deed_at_the_desk> season_script(const std::string& folder_of_csv) {
    using records::kind;
    return {
        {"create",
         [](const auto& path) {
             if (!std::filesystem::exists(path)) ledger::ledger_file::create(path);
         }},
        {"intake season",
         [folder_of_csv](const auto& path) {
             auto file = ledger::ledger_file::open(path);
             intake::take_season(file, folder_of_csv, standing_still());
         }},
        {"record receipt",
         [](const auto& path) {
             record_one(path, kind::receipt,
                        {{"receipt", "RC4"},
                         {"date", "2026-06-02"},
                         {"site", "S1"},
                         {"bundle", "B3"},
                         {"outcome", "accepted"}});
         }},
        {"record cost",
         [](const auto& path) {
             record_one(path, kind::cost,
                        {{"cost", "C2"},
                         {"date", "2026-06-03"},
                         {"category", "travel"},
                         {"description", "haul to Aldwend"},
                         {"amount", "48.20"},
                         {"fund", "grant"}});
         }},
        {"correct ticket",
         [](const auto& path) {
             correct_one(path, kind::ticket, {"T1"}, {{"gross", "151"}, {"net", "111"}});
         }},
        {"record check weight",
         [](const auto& path) {
             record_one(path, kind::ticket,
                        {{"ticket", "T2"},
                         {"date", "2026-06-04"},
                         {"scale", "P1"},
                         {"weighs", "bale"},
                         {"subject", "L1"},
                         {"net", "112"},
                         {"unit", "lb"},
                         {"entry", "manual"}});
         }},
        {"correct a haul, both of its rows",
         [](const auto& path) {
             correct_one(path, kind::haul, {"H1"}, {{"driver", "Tove"}});
         }},
        {"void cost", [](const auto& path) { void_one(path, kind::cost, {"C1"}); }},
        {"record grower",
         [](const auto& path) {
             record_one(path, kind::grower,
                        {{"grower", "G3"}, {"name", "Ada Bell"}, {"region", "KB"}, {"email", "ada@example.org"}});
         }},
        {"void shipment's acceptance", [](const auto& path) { void_one(path, kind::acceptance, {"SH1"}); }},
        {"close quarter",
         [](const auto& path) {
             close_one(path, {2026, 2});
         }},
        {"erase contact", [](const auto& path) { erase_one(path, "G1"); }},
    };
}

/// What a ledger says, shortly: its head, the growers' names, and every figure of the season's quarter
/// where it has an award.
struct ledger_state {
    records::entry_no seq = 0;
    std::string hash, names, figures;
    friend bool operator==(const ledger_state&, const ledger_state&) = default;
};

inline ledger_state state_of(const std::string& path) {
    const auto file = ledger::ledger_file::open(path);
    const auto head = file.head();
    ledger_state state{head.seq, ledger::hex(head.hash), {}, {}};
    file.for_each(records::kind::grower, head.seq,
                  [&](const ledger::stored_row& stored) { state.names += std::string{stored.values[1]} + "\n"; });
    const auto season = ledger::load_season(file, head.seq);
    if (!season.the_award) return state;
    const auto report = figures::figures_of(season, reconcile::reckon(season), {2026, 2}, head.seq, false);
    for (const auto& figure : report.figures)
        state.figures += figure.name + " " + figures::text_of(figure.value) + "\n";
    return state;
}

} // namespace tarewell::tests
