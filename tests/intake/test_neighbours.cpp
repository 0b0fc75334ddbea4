// One record is held against its neighbours with the verdict, the words and the whole numbers of the whole season.
#include "base_season.hpp"
#include "desk/echo.hpp"
#include "desk/remains.hpp"
#include "figures/soundness.hpp"
#include "intake/intake.hpp"
#include "ledger/load_season.hpp"
#include "reconcile/reckoning.hpp"
#include "support.hpp"

#include <catch2/catch.hpp>

#include <filesystem>
#include <random>

using namespace tarewell;
using namespace tarewell::tests;

namespace {

/// Two ledgers of one golden season: every deed is done to both, held against the neighbours here and the whole there.
class twins {
  public:
    explicit twins(const std::string& season, std::uint32_t seed) : lots_{seed} {
        const auto folder = source_path("tests/golden/seasons/") + season;
        intake::take_season(near_, folder, around_near_);
        intake::take_season(whole_, folder, around_whole_);
    }

    struct outcome {
        std::string near, whole;
        records::kind which{};
        std::vector<records::entry_no> entries = {}; ///< that were written
        bool voids = false;
    };

    /// Some change of some record, taken at random; what became of it on either side.
    outcome some_deed() {
        const auto& kind = some_kind();
        auto rows = rows_of(kind.which);
        if (rows.empty()) return {};
        const auto& row = rows[below(rows.size())];
        const auto key = keys_of(kind, row);
        switch (below(5)) {
        case 0:
            return both([&](auto& file, const auto& around, auto sight) {
                return intake::void_record(file, kind.which, key, "a test", around, {}, sight);
            });
        case 1:
        case 2: {
            const auto changes = some_changes(kind, rows);
            return both([&](auto& file, const auto& around, auto sight) {
                return intake::correct(file, kind.which, key, changes, "a test", around, {}, sight);
            });
        }
        default: {
            auto values = values_of(kind, row);
            for (const auto& [name, text] : some_changes(kind, rows, true))
                values[name] = text;
            return both([&](auto& file, const auto& around, auto sight) {
                return intake::record(file, kind.which, values, around, {}, {}, sight);
            });
        }
        }
    }
    [[nodiscard]] bool are_alike() const { return near_.head().hash == whole_.head().hash; }
    [[nodiscard]] const ledger::ledger_file& file() const { return near_; }
    [[nodiscard]] bool is_sound() const { return figures::unsound_in(near_).empty(); }

  private:
    using texts = std::vector<std::string>;

    std::size_t below(std::size_t end) { return std::uniform_int_distribution<std::size_t>{0, end - 1}(lots_); }

    const records::kind_info& some_kind() {
        const auto kinds = records::recorded_kinds();
        return kinds[below(kinds.size())];
    }

    std::vector<texts> rows_of(records::kind which) {
        std::vector<texts> rows;
        near_.for_each(which, near_.head().seq, [&](const ledger::stored_row& stored) {
            rows.emplace_back();
            for (std::size_t i = 0; i < records::info(which).columns.size(); ++i)
                rows.back().emplace_back(stored.values[i]);
        });
        return rows;
    }

    texts keys_of(const records::kind_info& kind, const texts& row) {
        texts key{row[kind.key[0]]};
        if (kind.key_columns == 2 && below(4) != 0) key.push_back(row[kind.key[1]]);
        return key;
    }

    static intake::named_values values_of(const records::kind_info& kind, const texts& row) {
        intake::named_values values;
        for (std::size_t i = 0; i < row.size(); ++i)
            if (!row[i].empty()) values[std::string{kind.columns[i].name}] = row[i];
        return values;
    }

    /// One or two columns take the value of another record, nothing, or an id that nothing defines.
    intake::named_values some_changes(const records::kind_info& kind, const std::vector<texts>& rows,
                                      bool new_key = false) {
        intake::named_values changes;
        for (std::size_t left = 1 + below(2); left > 0; --left) {
            const auto column = below(kind.columns.size());
            const auto& other = rows[below(rows.size())][column];
            changes[std::string{kind.columns[column].name}] = below(6) == 0 ? (below(2) == 0 ? "" : "X9") : other;
        }
        if (new_key) changes[std::string{kind.columns[kind.key[0]].name}] = "NEW" + std::to_string(++made_);
        return changes;
    }

    template <class Deed> outcome both(const Deed& deed) {
        const auto before = near_.head().seq;
        outcome made{told(deed, near_, around_near_, intake::sight::neighbours),
                     told(deed, whole_, around_whole_, intake::sight::whole_season)};
        near_.for_each_journal_entry(before + 1, near_.head().seq, [&](const ledger::journal_entry& each) {
            made.which = records::find_kind(each.kind)->which;
            made.entries.push_back(each.seq);
            made.voids = each.deed == "void";
        });
        return made;
    }

    template <class Deed> static std::string told(const Deed& deed, ledger::ledger_file& file,
                                                  const ledger::surroundings& around, intake::sight sight) {
        try {
            const auto summary = deed(file, around, sight);
            std::string text = "done " + summary.note;
            for (const auto entry : summary.entries)
                text += " " + std::to_string(entry);
            return text;
        } catch (const records::refused& why) {
            std::string text = "refused";
            for (const auto& line : why.lines())
                text += "\n" + line;
            return text;
        }
    }

    temporary_folder folder_;
    ledger::surroundings around_near_ = standing_still(), around_whole_ = standing_still();
    ledger::ledger_file near_ = ledger::ledger_file::create(folder_.file("near.tarewell"));
    ledger::ledger_file whole_ = ledger::ledger_file::create(folder_.file("whole.tarewell"));
    std::mt19937 lots_;
    int made_ = 0;
};

std::string told(const desk::echo& of) {
    auto text = of.text();
    for (const auto& line : of.understood)
        text += line + "\n";
    return text;
}

std::string together(const std::vector<std::string>& lines) {
    std::string text;
    for (const auto& line : lines)
        text += line + "\n";
    return text;
}

} // namespace

TEST_CASE("a record's doubts by the paper around it are those of the whole season") {
    const bool at_length = std::getenv("TAREWELL_LONG") != nullptr;
    std::map<std::string, int> raised;
    int left = 0;
    std::uint32_t seed = 101;
    for (const std::string season : {"plain", "kilograms_july", "shipped_indirect", "accepted_grant_match"}) {
        twins both{season, seed++};
        for (int i = 0; i < (at_length ? 3000 : 250); ++i) {
            const auto done = both.some_deed();
            if (done.entries.empty()) continue;
            CAPTURE(season, i, done.entries.back());
            const auto& file = both.file();
            const auto of = ledger::load_season(file, file.head().seq);
            if (!done.voids) {
                const auto whole = desk::echo_of(file, of, reconcile::reckon(of), done.which, done.entries);
                REQUIRE(told(desk::echo_of_near(file, done.which, done.entries, 1000)) == told(whole));
                for (const auto& each : whole.doubts)
                    ++raised[each.sentence.substr(0, each.sentence.find(' '))];
                continue;
            }
            const auto before = done.entries.front() - 1;
            const auto whole = desk::what_remains(file, before); // these ledgers are small: read whole
            REQUIRE(together(desk::what_remains_near(file, before)) == together(whole));
            CHECK(desk::filed_without(file, done.entries) == desk::filed_without(file, of, done.entries));
            left += static_cast<int>(whole.size());
        }
    }
    // It would say nothing if nothing were raised.
    CHECK(raised.size() > 5);
    CHECK(left > 10);
}

TEST_CASE("one record held against its neighbours gets the verdict, words and numbers of the whole season") {
    const bool at_length = std::getenv("TAREWELL_LONG") != nullptr;
    int refused = 0, done = 0;
    std::uint32_t seed = 1;
    for (const std::string season : {"plain", "kilograms_july", "shipped_indirect", "accepted_grant_match"}) {
        twins both{season, seed++};
        for (int i = 0; i < (at_length ? 3000 : 150); ++i) {
            const auto done_to = both.some_deed();
            const auto &near = done_to.near, &whole = done_to.whole;
            CAPTURE(season, i);
            REQUIRE(near == whole);
            refused += near.starts_with("refused") ? 1 : 0;
            done += near.starts_with("done") ? 1 : 0;
        }
        CHECK(both.are_alike());
        CHECK(both.is_sound());
    }
    // It would say nothing if all were refused, or nothing.
    CHECK(refused > 100);
    CHECK(done > 100);
}
