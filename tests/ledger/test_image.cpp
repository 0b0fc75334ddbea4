// A season by the image of the ledger's rows is the season by the ledger, whatever became of the image.
#include "base_season.hpp"
#include "full_disk.hpp"
#include "intake/keeping.hpp"
#include "ledger/image_file.hpp"
#include "ledger/load_season.hpp"
#include "ledger/quick_season.hpp"
#include "random_deeds.hpp"
#include "season_text.hpp"

#include <catch2/catch.hpp>

#include <atomic>
#include <filesystem>
#include <sys/file.h>
#include <sys/wait.h>
#include <thread>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;
using ledger::image_use;
using ledger::people;

namespace {

constexpr image_use always{1, 0};

std::vector<std::string> by_image(const ledger::ledger_file& file, records::entry_no seq, image_use use = always) {
    return season_text{ledger::quick_season(file, seq, people::named, use)}.lines();
}
std::vector<std::string> by_ledger(const ledger::ledger_file& file, records::entry_no seq) {
    return season_text{ledger::load_season(file, seq)}.lines();
}
bool is_used(const ledger::ledger_file& file) {
    try {
        return ledger::read_image(file).reach() > 0;
    } catch (const ledger::unusable_image&) {
        return false;
    }
}

/// The base season with an image beside it, which came in two parts.
class pictured_season : public base_season {
  public:
    pictured_season() {
        take_all();
        const auto first = head();
        picture();
        before_ = bytes();
        intake::record(
            ledger(), records::kind::receipt,
            {{"receipt", "RC9"}, {"date", "2026-06-10"}, {"site", "S1"}, {"bundle", "B5"}, {"outcome", "held"}},
            around());
        intake::correct(ledger(), records::kind::receipt, {"RC3"}, {{"date", "2026-05-13"}}, "misread", around());
        intake::void_record(ledger(), records::kind::receipt, {"RC9"}, "entered twice", around());
        picture();
        if (ledger::read_image(ledger()).segments().size() != 2 || head() != first + 3)
            throw std::logic_error("the image did not come in two parts");
        expected_ = by_ledger(ledger(), head());
    }
    void picture() { (void)by_image(ledger(), head()); }
    [[nodiscard]] std::string path() { return ledger::path_of_image(ledger()); }
    [[nodiscard]] std::string bytes() { return bytes_in(path()); }
    [[nodiscard]] const std::string& bytes_before() const { return before_; }
    void put(const std::string& bytes) { (void)folder().write("basin.tarewell.image", bytes); }
    /// Without writing a new one.
    [[nodiscard]] bool is_right() { return by_image(ledger(), head(), {1, 1'000'000}) == expected_; }

  private:
    std::string before_;
    std::vector<std::string> expected_;
};

} // namespace

TEST_CASE("a season by the image is that by the ledger, as of every entry of random streams of commands") {
    const bool at_length = std::getenv("TAREWELL_LONG") != nullptr;
    std::uint32_t seed = 11;
    for (const std::string season : {"plain", "kilograms_july", "shipped_indirect", "accepted_grant_match"}) {
        random_deeds deeds{season, seed++};
        auto& file = deeds.file();
        for (int i = 0; i < (at_length ? 1000 : 40); ++i) {
            deeds.some_deed();
            const auto head = file.head().seq;
            CAPTURE(season, i, head);
            // Kept after every deed, after some, or hardly ever.
            const image_use use{1, i % 3 == 0 ? 0 : i % 3 == 1 ? 3 : 50};
            REQUIRE(by_image(file, head, use) == by_ledger(file, head));
            const auto earlier = static_cast<records::entry_no>(deeds.below(static_cast<std::size_t>(head))) + 1;
            CAPTURE(earlier);
            REQUIRE(by_image(file, earlier, use) == by_ledger(file, earlier));
        }
        CHECK(deeds.done() > 5);
        const auto erased = deeds.erase_somebody();
        CHECK(by_image(file, erased) == by_ledger(file, erased));
        CHECK(ledger::check_image(file, always).found == ledger::image_check::state::held);
        CHECK(ledger::read_image(file).segments().size() > 2);
    }
}

TEST_CASE("a season by the image without names has all of the ledger's but contact details") {
    pictured_season basin;
    auto expected = ledger::load_season(basin.ledger(), basin.head());
    for (auto& each : expected.growers) {
        if (each.entry == 0) continue; // the one of bundles without a label
        each.name.clear(), each.farm.clear(), each.email.clear(), each.phone.clear();
        each.erased = true;
    }
    const auto found = ledger::quick_season(basin.ledger(), basin.head(), people::unnamed, always);
    CHECK(season_text{found}.lines() == season_text{expected}.lines());
}

TEST_CASE("an image holds nobody's name, farm, telephone or mail") {
    pictured_season basin;
    for (const char* each : {"Ruth", "Hollow", "555-0100", "ruth@", "Ib Orn"})
        CHECK(basin.bytes().find(each) == std::string::npos);
    intake::erase_contact(basin.ledger(), "G1", "asked to", basin.around());
    basin.picture();
    CHECK(by_image(basin.ledger(), basin.head()) == by_ledger(basin.ledger(), basin.head()));
    CHECK(ledger::quick_season(basin.ledger(), basin.head(), people::named, always).growers.at(1).erased);
}

TEST_CASE("an image that is flipped at any byte is not used") {
    pictured_season basin;
    const auto good = basin.bytes();
    REQUIRE(is_used(basin.ledger()));
    const std::size_t step = std::getenv("TAREWELL_LONG") != nullptr ? 1 : 7;
    for (std::size_t at = 0; at < good.size(); at += step) {
        auto bad = good;
        bad[at] = static_cast<char>(bad[at] ^ (1 << (at % 8)));
        basin.put(bad);
        CAPTURE(at);
        REQUIRE_FALSE(is_used(basin.ledger()));
        if (at % 70 == 0) REQUIRE(basin.is_right());
    }
}

TEST_CASE("an image that is cut is not used, but for one cut where it once ended, which is an older one") {
    pictured_season basin;
    const auto good = basin.bytes();
    for (std::size_t size = 0; size < good.size(); size += size < 400 ? 1 : 13) {
        basin.put(good.substr(0, size));
        CAPTURE(size);
        REQUIRE(is_used(basin.ledger()) == (size == basin.bytes_before().size()));
        if (size % 65 == 0) REQUIRE(basin.is_right());
    }
    basin.put(good + std::string(1, '\0'));
    CHECK_FALSE(is_used(basin.ledger()));
    basin.put(good + good);
    CHECK_FALSE(is_used(basin.ledger()));
    CHECK(basin.is_right());
}

TEST_CASE("an older image is gone on from, and another ledger's is not used") {
    pictured_season basin;
    basin.put(basin.bytes_before());
    CHECK(is_used(basin.ledger()));
    CHECK(basin.is_right());

    base_season other;
    (void)other.folder().write("sites.csv", "site,name,town\nS1,Old Creamery,Wend\nS2,Another lot,Aldwend\n");
    other.take_all();
    (void)by_image(other.ledger(), other.head());
    basin.put(bytes_in(ledger::path_of_image(other.ledger())));
    CHECK_FALSE(is_used(basin.ledger()));
    CHECK(basin.is_right());
    basin.picture();
    CHECK(is_used(basin.ledger()));
}

TEST_CASE("an image that reaches past its ledger, which was put back, is used as far as they agree") {
    pictured_season basin;
    const auto whole = basin.bytes();
    base_season again; // the same entries as at first, and then others
    again.take_all();
    const auto expected = by_ledger(again.ledger(), again.head());
    (void)again.folder().write("basin.tarewell.image", whole);
    CHECK(by_image(again.ledger(), again.head()) == expected);
    CHECK(ledger::read_image(again.ledger()).reach() == again.head());
    intake::void_record(again.ledger(), records::kind::receipt, {"RC3"}, "entered twice", again.around());
    CHECK(by_image(again.ledger(), again.head()) == by_ledger(again.ledger(), again.head()));
}

TEST_CASE("no image is needed: where none can be written, the season is the same") {
    base_season basin;
    basin.take_all();
    const auto expected = by_ledger(basin.ledger(), basin.head());
    const auto path = ledger::path_of_image(basin.ledger());
    SECTION("a folder stands in its place") {
        std::filesystem::create_directory(path);
        CHECK(by_image(basin.ledger(), basin.head()) == expected);
        CHECK(std::filesystem::is_directory(path));
    }
    SECTION("a folder stands where it is written first") {
        std::filesystem::create_directory(path + ".partial");
        CHECK(by_image(basin.ledger(), basin.head()) == expected);
        CHECK_FALSE(std::filesystem::exists(path));
    }
    SECTION("the disk is full") {
        const file_size_limit full{1000};
        CHECK(by_image(basin.ledger(), basin.head()) == expected);
        CHECK_FALSE(std::filesystem::exists(path));
        CHECK_FALSE(std::filesystem::exists(path + ".partial"));
    }
    SECTION("another process is writing it") {
        const int other = ::open((path + ".partial").c_str(), O_RDWR | O_CREAT, 0600);
        REQUIRE(::flock(other, LOCK_EX) == 0);
        CHECK(by_image(basin.ledger(), basin.head()) == expected);
        CHECK_FALSE(std::filesystem::exists(path));
        ::close(other);
        CHECK(by_image(basin.ledger(), basin.head()) == expected);
        CHECK(is_used(basin.ledger()));
    }
}

TEST_CASE("a small ledger gets no image") {
    base_season basin;
    basin.take_all();
    (void)ledger::quick_season(basin.ledger(), basin.head());
    CHECK_FALSE(std::filesystem::exists(ledger::path_of_image(basin.ledger())));
    CHECK(ledger::check_image(basin.ledger()).found == ledger::image_check::state::none);
    CHECK_FALSE(std::filesystem::exists(ledger::path_of_image(basin.ledger())));
}

TEST_CASE("who may not read the ledger may not read its image") {
    pictured_season basin;
    std::filesystem::remove(basin.path());
    std::filesystem::permissions(basin.ledger().path(),
                                 std::filesystem::perms::owner_read | std::filesystem::perms::owner_write);
    basin.picture();
    CHECK(std::filesystem::status(basin.path()).permissions() ==
          (std::filesystem::perms::owner_read | std::filesystem::perms::owner_write));
}

TEST_CASE("a process that is killed at any point of writing an image leaves nothing that is used") {
    base_season basin;
    basin.take_all();
    const auto expected = by_ledger(basin.ledger(), basin.head());
    const auto path = ledger::path_of_image(basin.ledger());
    (void)by_image(basin.ledger(), basin.head());
    const auto size = std::filesystem::file_size(path);
    for (std::size_t limit = 0; limit < size; limit += size / 12 + 1) {
        std::filesystem::remove(path);
        const auto child = fork();
        if (child == 0) {
            const rlimit few{limit, limit};
            std::signal(SIGXFSZ, SIG_DFL);
            setrlimit(RLIMIT_FSIZE, &few);
            (void)by_image(basin.ledger(), basin.head());
            _exit(0);
        }
        int status = 0;
        REQUIRE(waitpid(child, &status, 0) == child);
        CAPTURE(limit);
        REQUIRE(WIFSIGNALED(status));
        REQUIRE_FALSE(std::filesystem::exists(path));
        REQUIRE(std::filesystem::exists(path + ".partial"));
        REQUIRE(by_image(basin.ledger(), basin.head()) == expected);
        REQUIRE(is_used(basin.ledger()));
        REQUIRE_FALSE(std::filesystem::exists(path + ".partial"));
    }
}

TEST_CASE("several read by the image and write it while another enters records") {
    base_season basin;
    basin.take_all();
    std::atomic<bool> over = false;
    std::atomic<int> wrong = 0, read = 0;
    std::vector<std::thread> readers;
    for (int i = 0; i < 3; ++i)
        readers.emplace_back([&] {
            const auto file = ledger::ledger_file::open(basin.ledger().path());
            while (!over) {
                const ledger::ledger_file::snapshot one_state{file};
                const auto head = file.head().seq;
                wrong += by_image(file, head) == by_ledger(file, head) ? 0 : 1;
                ++read;
            }
        });
    for (int i = 0; i < 25; ++i)
        intake::record(basin.ledger(), records::kind::receipt,
                       {{"receipt", fmt::format("W{}", i)},
                        {"date", "2026-06-10"},
                        {"site", "S1"},
                        {"bundle", "B5"},
                        {"outcome", "held"}},
                       basin.around());
    over = true;
    for (auto& each : readers)
        each.join();
    CHECK(wrong == 0);
    CHECK(read > 3);
    CHECK(by_image(basin.ledger(), basin.head()) == by_ledger(basin.ledger(), basin.head()));
}

TEST_CASE("a check holds a kept image to the ledger, row by row") {
    pictured_season basin;
    CHECK(ledger::check_image(basin.ledger(), always).found == ledger::image_check::state::held);
    // One that is good by its own sums and has another weight in it.
    ledger::image_maker maker;
    for (const auto& kind : records::all_kinds())
        basin.ledger().for_each(kind.which, basin.head(), [&](const ledger::stored_row& stored) {
            auto row = stored;
            if (kind.which == records::kind::ticket) row.values.worked_out[0] = 111'000;
            maker.add(row);
        });
    basin.put(maker.segment(ledger::image{}, basin.head(), basin.ledger().head().hash));
    REQUIRE(is_used(basin.ledger()));
    const auto found = ledger::check_image(basin.ledger(), always);
    CHECK(found.found == ledger::image_check::state::differs);
    CHECK_THAT(found.what, Contains("entry"));
    basin.put("no image");
    CHECK(ledger::check_image(basin.ledger(), always).found == ledger::image_check::state::made_anew);
    CHECK(is_used(basin.ledger()));
}
