#include "ledger/load_season.hpp"
#include "base_season.hpp"
#include "figures/closing.hpp"
#include "figures/soundness.hpp"
#include "plain_ledger.hpp"
#include "reconcile/flags.hpp"

#include <catch2/catch.hpp>

#include <cstdlib>
#include <iostream>

using namespace tarewell;
using namespace tarewell::tests;
using records::kind;
using outcome = plain_ledger::outcome;

namespace {

constexpr kind kinds[] = {kind::site,    kind::grower, kind::cover,  kind::bundle,
                          kind::receipt, kind::bale,   kind::ticket, kind::cost};

/// Memory where there is such a folder: thousands of commits need not reach a disk.
std::filesystem::path quick_folder() {
    return std::filesystem::is_directory("/dev/shm") ? "/dev/shm" : std::filesystem::temp_directory_path();
}

struct counts {
    std::size_t commands = 0, done = 0, refused = 0, unchanged = 0, questions = 0, closings = 0, filed_again = 0;
};

/// A closing as it was made.
struct closed_quarter {
    quantity::quarter quarter;
    records::entry_no entry = 0;
    std::string filed; ///< its figures
};

/// One stream of commands drawn from a seed, told to the real ledger and to the plain one.
class stream {
  public:
    stream(std::uint64_t seed, counts& told) : dice_{seed}, told_{told} {
        (void)folder_.write("award.csv", base_files().at("award.csv"));
        (void)folder_.write("scales.csv", base_files().at("scales.csv"));
        intake::take_season(ledger_, folder_.path(), around_);
    }

    void run(int commands) {
        for (int i = 0; i < commands; ++i) {
            ++told_.commands;
            const auto drawn = draw(20);
            if (drawn < 10)
                record();
            else if (drawn < 14)
                correct();
            else if (drawn < 17)
                take_out();
            else if (drawn < 18)
                close();
            else
                ask(static_cast<std::int64_t>(draw(static_cast<std::size_t>(head()) + 1)));
        }
        ask(head());
        for (const auto& [name, closing] : closed_)
            ask_what_was_filed(closing);
        CHECK(figures::unsound_in(ledger_) == std::vector<std::string>{});
    }
    [[nodiscard]] const std::string& log() const { return log_; }

  private:
    std::mt19937_64 dice_;
    counts& told_;
    temporary_folder folder_{quick_folder()};
    ledger::surroundings around_ = standing_still();
    ledger::ledger_file ledger_ = ledger::ledger_file::create(folder_.file("basin.tarewell"));
    plain_ledger plain_;
    std::set<std::string> once_done_;
    std::map<std::string, closed_quarter> closed_;
    std::string log_;

    std::size_t draw(std::size_t below) { return dice_() % below; }
    [[nodiscard]] records::entry_no head() const { return ledger_.head().seq; }
    std::string id(const char* letter, std::size_t below) { return letter + std::to_string(draw(below)); }
    std::string date() { return fmt::format("2026-{:02}-{:02}", 4 + draw(6), 1 + draw(3)); }
    std::string bundle_id() { return fmt::format("R{}-{}", draw(3), 1 + draw(3)); }

    record_name any_name(kind which) {
        switch (which) {
        case kind::site:
            return {which, id("S", 3)};
        case kind::grower:
            return {which, id("G", 3)};
        case kind::cover:
            return {which, id("R", 3), "1"};
        case kind::bundle:
            return {which, bundle_id()};
        case kind::receipt:
            return {which, id("RC", 8)};
        case kind::bale:
            return {which, id("L", 3), bundle_id()};
        case kind::ticket:
            return {which, id("T", 5)};
        default:
            return {which, id("C", 5)};
        }
    }

    said_values any_values(const record_name& name) {
        switch (name.which) {
        case kind::site:
            return {{"site", name.first}, {"name", id("yard ", 2)}};
        case kind::grower:
            return {{"grower", name.first}, {"name", id("Ola ", 2)}, {"region", "KB"}};
        case kind::cover:
            return {{"registration", name.first}, {"date", date()}, {"grower", id("G", 3)},
                    {"site", id("S", 3)},         {"cover", "1"},   {"length_ft", "96"},
                    {"width_ft", "30"},           {"layers", "1"}};
        case kind::bundle:
            return {{"bundle", name.first},
                    {"registration", name.first.substr(0, 2)},
                    {"number", name.first.substr(3)},
                    {"of", "3"}};
        case kind::receipt:
            return {{"receipt", name.first},
                    {"date", date()},
                    {"site", id("S", 3)},
                    {"bundle", bundle_id()},
                    {"outcome", draw(3) == 0 ? "held" : "accepted"}};
        case kind::bale:
            return {{"bale", name.first},
                    {"date", "2026-06-0" + std::to_string(1 + draw(2))},
                    {"site", "S" + name.first.substr(1)},
                    {"bundle", name.second}};
        case kind::ticket:
            return {{"ticket", name.first}, {"date", date()},        {"scale", "P1"},
                    {"weighs", "bale"},     {"subject", id("L", 3)}, {"net", std::to_string(100 + draw(3))},
                    {"unit", "lb"},         {"entry", "printed"}};
        default:
            return {{"cost", name.first},
                    {"date", date()},
                    {"category", "travel"},
                    {"description", "van"},
                    {"amount", std::to_string(10 + draw(3))},
                    {"fund", "grant"}};
        }
    }

    said_values any_change(kind which, bool& shared) {
        switch (which) {
        case kind::site:
            return {{"name", id("yard ", 3)}};
        case kind::grower:
            return {{"phone", id("555-010", 3)}};
        case kind::cover:
            shared = draw(2) == 0;
            return shared ? said_values{{"grower", id("G", 3)}}
                          : said_values{{"length_ft", draw(2) == 0 ? "48" : "96"}};
        case kind::bundle:
            return draw(2) == 0 ? said_values{{"estimate", "10"}, {"unit", "lb"}}
                                : said_values{{"estimate", ""}, {"unit", ""}};
        case kind::receipt:
            return draw(2) == 0 ? said_values{{"outcome", "accepted"}} : said_values{{"bundle", bundle_id()}};
        case kind::bale:
            shared = true;
            return {{"date", "2026-06-0" + std::to_string(1 + draw(3))}};
        case kind::ticket:
            return draw(2) == 0 ? said_values{{"net", std::to_string(100 + draw(3))}}
                                : said_values{{"subject", id("L", 3)}};
        default:
            return {{"amount", std::to_string(10 + draw(3))}};
        }
    }

    static std::vector<std::string> key_of(const record_name& name) {
        return name.second.empty() ? std::vector{name.first} : std::vector{name.first, name.second};
    }

    /// Tells the real ledger, and holds its answer against the plain one's.
    template <class Body> void tell(const std::string& what, const plain_ledger::change& expected, Body&& command) {
        const auto once = draw(5) == 0 ? id("key ", 8) : std::string{};
        const bool repeated = once_done_.contains(once);
        log_ += fmt::format("{} {}\n", what, once);
        INFO(log_);
        const auto before = ledger_.head();
        std::vector<records::entry_no> entries;
        auto got = outcome::refused;
        try {
            entries = command(once).entries;
            got = entries.empty() ? outcome::unchanged : outcome::done;
        } catch (const records::refused& refusal) {
            log_ += "   " + refusal.lines().at(0) + "\n";
        }
        const auto wanted = repeated ? outcome::unchanged : expected.outcome;
        REQUIRE(static_cast<int>(got) == static_cast<int>(wanted));
        ++(got == outcome::done ? told_.done : got == outcome::refused ? told_.refused : told_.unchanged);
        if (got != outcome::done) {
            REQUIRE(ledger_.head().hash == before.hash);
            return;
        }
        REQUIRE(entries.size() == expected.rows.size());
        REQUIRE(head() == before.seq + static_cast<records::entry_no>(entries.size()));
        plain_.apply(expected, entries);
        if (!once.empty()) once_done_.insert(once);
    }

    /// Most draws would be refused: draws again, mostly, until one would be done.
    template <class Draw> auto drawn_mostly_done(Draw&& make) {
        auto made = make();
        for (int tries = 0; tries < 12 && made.expected.outcome != outcome::done && draw(8) != 0; ++tries)
            made = make();
        return made;
    }

    void record() {
        struct drawn {
            record_name name;
            said_values values;
            plain_ledger::change expected;
        };
        const auto made = drawn_mostly_done([&] {
            drawn one{any_name(kinds[draw(std::size(kinds))]), {}, {}};
            one.values = any_values(one.name);
            one.expected = plain_.record(one.name, one.values);
            return one;
        });
        tell(fmt::format("record {} {} {}", records::info(made.name.which).name, made.name.first, made.name.second),
             made.expected, [&](const auto& once) {
                 return intake::record(ledger_, made.name.which, {made.values.begin(), made.values.end()}, around_,
                                       once);
             });
    }
    void correct() {
        struct drawn {
            record_name key;
            said_values changes;
            plain_ledger::change expected;
        };
        const auto made = drawn_mostly_done([&] {
            drawn one{any_name(kinds[draw(std::size(kinds))]), {}, {}};
            bool shared = false;
            one.changes = any_change(one.key.which, shared);
            if (shared && draw(2) == 0) one.key.second.clear();
            one.expected = plain_.correct(one.key, one.changes, shared);
            return one;
        });
        const auto& [column, text] = *made.changes.begin();
        tell(fmt::format("correct {} {} {} {}={}", records::info(made.key.which).name, made.key.first, made.key.second,
                         column, text),
             made.expected, [&](const auto& once) {
                 return intake::correct(ledger_, made.key.which, key_of(made.key),
                                        {made.changes.begin(), made.changes.end()}, "misread", around_, once);
             });
    }
    void take_out() {
        struct drawn {
            record_name key;
            plain_ledger::change expected;
        };
        const auto made = drawn_mostly_done([&] {
            drawn one{any_name(kinds[draw(std::size(kinds))]), {}};
            if (draw(2) == 0) one.key.second.clear();
            one.expected = plain_.take_out(one.key);
            return one;
        });
        tell(fmt::format("void {} {} {}", records::info(made.key.which).name, made.key.first, made.key.second),
             made.expected, [&](const auto& once) {
                 return intake::void_record(ledger_, made.key.which, key_of(made.key), "entered twice", around_, once);
             });
    }
    void close() {
        const quantity::quarter quarter{2026, static_cast<int>(2 + draw(3))};
        std::map<std::string, std::string> accepted;
        for (const auto& code : reconcile::flag_codes())
            if (code.level == reconcile::flag_level::blocks) accepted.emplace(code.code, "looked into");
        const auto before = head();
        bool done = true;
        try {
            figures::close_period(ledger_, quarter, {"a", "b", "c"}, {accepted}, around_);
        } catch (const records::refused&) {
            done = false;
        }
        log_ += "close " + quantity::text_of(quarter) + "\n";
        CHECK(done != closed_.contains(quantity::text_of(quarter)));
        CHECK(head() == before + (done ? 1 : 0));
        if (!done) return;
        ++told_.closings;
        const auto report = figures::view_period(ledger_, quarter, before).report;
        closed_.emplace(quantity::text_of(quarter), closed_quarter{quarter, head(), figures::filed_text(report)});
    }
    /// Whatever came after: the closing keeps the figures that it was made with, and they come out again.
    void ask_what_was_filed(const closed_quarter& closing) {
        ++told_.filed_again;
        INFO(log_ << "what was filed for " << quantity::text_of(closing.quarter));
        const auto season = ledger::load_season(ledger_, head());
        const auto* kept = season.closing_of(closing.quarter);
        REQUIRE(kept != nullptr);
        CHECK(kept->as_of == closing.entry - 1);
        CHECK(kept->figures == closing.filed);
        CHECK(figures::filed_text(figures::view_period(ledger_, closing.quarter, kept->as_of).report) ==
              closing.filed);
    }
    /// The quarters that were closed by then.
    [[nodiscard]] std::set<std::string> closed_by(std::int64_t seq) const {
        std::set<std::string> names;
        for (const auto& [name, closing] : closed_)
            if (closing.entry <= seq) names.insert(name);
        return names;
    }
    void ask(std::int64_t seq) {
        ++told_.questions;
        plain_ledger::state real;
        for (const auto which : kinds)
            ledger_.for_each(which, seq, [&](const ledger::stored_row& stored) {
                const auto& info = records::info(which);
                said_values values;
                for (std::size_t i = 0; i < info.columns.size(); ++i)
                    if (!stored.values[i].empty()) values.emplace(info.columns[i].name, stored.values[i]);
                const std::string second{info.key_columns == 2 ? stored.values[info.key[1]] : std::string_view{}};
                real[{which, std::string{stored.values[info.key[0]]}, second}] = values;
            });
        INFO(log_ << "ask as of " << seq);
        REQUIRE((real == plain_.in_force(seq)));
        std::set<std::string> closed;
        ledger_.for_each(kind::closing, seq,
                         [&](const ledger::stored_row& stored) { closed.emplace(stored.values[0]); });
        CHECK(closed == closed_by(seq));
        if (closed_.empty() || draw(4) != 0) return;
        ask_what_was_filed(std::next(closed_.begin(), static_cast<std::ptrdiff_t>(draw(closed_.size())))->second);
    }
};

} // namespace

TEST_CASE("random streams of commands leave in force, at every sequence asked, what a plain ledger in memory says") {
    const bool longer = std::getenv("TAREWELL_LONG") != nullptr;
    const std::uint64_t streams = longer ? 5'000 : 200;
    counts told;
    for (std::uint64_t seed = 1; seed <= streams; ++seed) {
        CAPTURE(seed);
        stream one{seed, told};
        one.run(longer ? 150 : 60);
    }
    std::cout << fmt::format(
        "streams {}, commands {}: done {}, refused {}, unchanged {}, closings {}, questions {}, closings "
        "asked again {}\n",
        streams, told.commands, told.done, told.refused, told.unchanged, told.closings, told.questions,
        told.filed_again);
    // The streams try all of it.
    CHECK(told.done > told.commands / 5);
    CHECK(told.refused > told.commands / 20);
    CHECK(told.unchanged > told.commands / 100);
    CHECK(told.closings > streams);
    CHECK(told.filed_again > told.closings);
}
