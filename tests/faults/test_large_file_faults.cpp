#include "disk_faults.hpp"

using namespace tarewell;
using namespace tarewell::tests;

// A file of thousands of rows is written by a thread of its own: what the disk refuses there is told like the rest.
TEST_CASE("a disk that fails anywhere in the intake of thousands of rows leaves the ledger as it was") {
    const temporary_folder folder{quick_disk()};
    for (const auto& [name, text] : base_files())
        folder.write(name, text);
    std::string growers = "grower,name,region\n";
    for (int i = 0; i < 2000; ++i)
        growers += fmt::format("L{:04},Grower {},KB\n", i * 7 % 2000, i);
    const auto large = folder.write("large.csv", growers);
    const deed_at_the_desk deed{"a large file", [&](const auto& at) {
                                    auto file = ledger::ledger_file::open(at);
                                    intake::take_file(file, records::kind::grower, large, standing_still());
                                }};
    const auto path = folder.file("basin.tarewell");
    const auto deeds = season_script(folder.path());
    for (const auto& each : {deeds[0], deeds[1]})
        each.run(path);
    const auto before_bytes = bytes_in(path);
    const auto before = state_of(path);
    deed.run(path);
    const auto after = state_of(path);
    CHECK(is_sound(path));
    tally_of_faults tally;
    for (const auto which : {trouble::io_error, trouble::disk_full})
        for (std::size_t nth = 1;; nth += each(11)) {
            put_bytes(path, before_bytes);
            const auto result = run_with_fault(deed, path, nth, {which, which == trouble::disk_full});
            if (!result.injected) break;
            ++tally.injected;
            const auto now = state_of(path);
            if (result.error.empty()) {
                ++tally.borne;
                if (now == after) continue;
                tally.wrong.push_back(fmt::format("call {}: came through, but not all of it is there", nth));
                continue;
            }
            ++tally.refused;
            if (!result.clear) tally.wrong.push_back(fmt::format("call {}: {}", nth, result.error));
            if (now == after && result.at == disk_call::sync_folder)
                ++tally.whole_though_refused;
            else if (now != before)
                tally.wrong.push_back(fmt::format("call {}: refused, but the ledger changed", nth));
        }
    check("a large file", tally);
    CHECK(tally.injected > 30);
}
