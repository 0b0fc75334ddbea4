#include "disk_faults.hpp"

using namespace tarewell;
using namespace tarewell::tests;

namespace {

constexpr quantity::quarter spring{2026, 2}, summer{2026, 3};

/// What a ledger tells of its closings: the head, each closing's row, and acts that nothing belongs to.
struct closings_told {
    records::entry_no seq = 0;
    std::string hash, rows;
    int acts_of_nothing = 0;
    friend bool operator==(const closings_told&, const closings_told&) = default;
};

closings_told closings_in(const std::string& path) {
    closings_told told;
    {
        const auto file = ledger::ledger_file::open(path);
        const auto head = file.head();
        told.seq = head.seq, told.hash = ledger::hex(head.hash);
        file.for_each(records::kind::closing, head.seq, [&](const ledger::stored_row& stored) {
            for (std::size_t i = 0; i < records::info(records::kind::closing).columns.size(); ++i)
                told.rows += fmt::format("{}\n", stored.values[i]);
        });
    }
    SQLite::Database database{path, SQLite::OPEN_READONLY};
    told.acts_of_nothing =
        database.execAndGet("SELECT count(*) FROM act WHERE act NOT IN (SELECT act FROM journal)").getInt();
    return told;
}

/// The sample season with its spring closed, and the closing of its summer, which is to fail.
class summer_closing {
  public:
    summer_closing() {
        auto file = ledger::ledger_file::create(path_);
        intake::take_season(file, source_path("sample_data/season"), standing_still());
        close_one(path_, spring);
        before_bytes_ = bytes_in(path_);
        before_ = closings_in(path_);
        deed_.run(path_);
        after_ = closings_in(path_);
    }

    [[nodiscard]] bool is_one_entry() const {
        return after_.seq == before_.seq + 1 && before_.acts_of_nothing + after_.acts_of_nothing == 0;
    }

    tally_of_faults fail_everywhere(const fault_plan& plan) const {
        tally_of_faults tally;
        for (std::size_t nth = 1;; nth += plan.every) {
            put_bytes(path_, before_bytes_);
            const auto result = run_with_fault(deed_, path_, nth, plan);
            if (!result.injected) return tally;
            ++tally.injected;
            const auto problem = problem_after(result, tally);
            if (!problem.empty())
                tally.wrong.push_back(fmt::format("call {} (kind {}): {}", nth, static_cast<int>(result.at), problem));
        }
    }

  private:
    temporary_folder folder_{quick_disk()};
    std::string path_ = folder_.file("kestrel.tarewell"), before_bytes_;
    deed_at_the_desk deed_{"close quarter", [](const auto& path) { close_one(path, summer); }};
    closings_told before_, after_;

    std::string problem_after(const outcome_of_fault& result, tally_of_faults& tally) const {
        const auto now = closings_in(path_);
        if (result.error.empty()) {
            ++tally.borne;
            return now == after_ ? "" : "came through, but the closing is not whole";
        }
        ++tally.refused;
        if (!result.clear) return "told as something else, or without what to do: " + result.error;
        if (now == after_ && result.at == disk_call::sync_folder)
            ++tally.whole_though_refused;
        else if (now != before_)
            return "refused, but the ledger changed";
        deed_.run(path_);
        if (closings_in(path_) != after_ || !is_sound(path_)) return "closed again it came out wrong";
        return names_in(folder_.path()).size() == 1 ? "" : "something was left beside the ledger";
    }
};

} // namespace

TEST_CASE("a quarter whose closing meets an error of the disk at any call is closed wholly or not at all") {
    const summer_closing closing;
    REQUIRE(closing.is_one_entry());
    check("closing, I/O errors, once", closing.fail_everywhere({trouble::io_error, false, each(3)}));
    check("closing, I/O errors, from then on", closing.fail_everywhere({trouble::io_error, true, each(3)}));
}

TEST_CASE("a quarter whose closing meets a full disk at any write is not closed, and is when there is room") {
    const summer_closing closing;
    check("closing, disk full, once", closing.fail_everywhere({trouble::disk_full, false}));
    check("closing, disk full, from then on", closing.fail_everywhere({trouble::disk_full, true}));
}

TEST_CASE("a quarter whose ledger another program holds waits for it, or says so and is not closed") {
    const summer_closing closing;
    const auto once = closing.fail_everywhere({trouble::in_use, false});
    CHECK(once.wrong == std::vector<std::string>{});
    CHECK(once.borne == once.injected); // the lock is got at the second try
    CHECK(once.borne > 0);
    check("closing, in use from then on", closing.fail_everywhere({trouble::in_use, true}));
}
