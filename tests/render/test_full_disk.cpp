#include "full_disk.hpp"
#include "ledger/whole_file.hpp"
#include "quiet_season.hpp"
#include "render/workbook_check.hpp"
#include "render/workbook_file.hpp"
#include "workbook_parts.hpp"

#include <catch2/catch.hpp>

#include <sys/stat.h>
#include <unistd.h>

using namespace tarewell;
using namespace tarewell::tests;
using Catch::Matchers::Contains;

namespace {

/// While it lives the folder takes no new files, from root either: root is somebody else meanwhile.
class unwritable {
  public:
    explicit unwritable(const temporary_folder& folder) : folder_{folder} {
        chmod(folder_.path().c_str(), S_IRUSR | S_IXUSR | S_IRGRP | S_IXGRP | S_IROTH | S_IXOTH);
        constexpr uid_t nobody = 65534;
        if (root_) changed_ = seteuid(nobody) == 0;
    }
    ~unwritable() {
        if (changed_ && seteuid(0) != 0) std::abort();
        chmod(folder_.path().c_str(), S_IRWXU);
    }
    unwritable(const unwritable&) = delete;
    unwritable& operator=(const unwritable&) = delete;
    [[nodiscard]] bool holds() const { return !root_ || changed_; }

  private:
    quiet_stderr quiet_;
    const temporary_folder& folder_;
    bool root_ = geteuid() == 0;
    bool changed_ = false;
};

const reckoned_season& quiet() {
    static const reckoned_season season{quiet_season()};
    return season;
}

} // namespace

TEST_CASE("wherever the disk is full the workbook is an io_error and nothing is left, until it fits") {
    const temporary_folder folder;
    write_workbook(quiet(), {2026, 2}, folder.file("whole.xlsx"));
    const auto whole = bytes_in(folder.file("whole.xlsx"));
    std::filesystem::remove(folder.file("whole.xlsx"));
    std::vector<std::string> strange;
    std::size_t failures = 0, written = 0;
    const auto try_with = [&](std::size_t limit) {
        std::string message;
        {
            const file_size_limit full{limit};
            message = io_error_of([&] { write_workbook(quiet(), {2026, 2}, folder.file("q.xlsx")); });
        }
        const auto left = files_in(folder);
        if (message.empty()) {
            ++written;
            if (left != 1 || bytes_in(folder.file("q.xlsx")) != whole)
                strange.push_back(fmt::format("{}: not whole", limit));
            std::filesystem::remove(folder.file("q.xlsx"));
        } else {
            ++failures;
            if (left != 0 || message.find("q.xlsx") == std::string::npos)
                strange.push_back(fmt::format("{}: {} files, {}", limit, left, message));
        }
    };
    // The temporary file of a sheet may be larger than the workbook: past both, all fits.
    for (std::size_t limit = 0; limit < 4 * whole.size(); limit += 1'009)
        try_with(limit);
    for (std::size_t missing = 1; missing < 30; ++missing)
        try_with(whole.size() - missing);
    CHECK(strange == std::vector<std::string>{});
    CHECK(failures > 30);
    CHECK(written > 0);
}

TEST_CASE("on a full disk the workbook that was there before stays as it was") {
    const temporary_folder folder;
    const auto& season = quiet(); // taken in before the disk is full
    folder.write("q.xlsx", "the older one");
    std::string message;
    {
        const file_size_limit full{5'000};
        message = io_error_of([&] { write_workbook(season, {2026, 2}, folder.file("q.xlsx")); });
    }
    CHECK_THAT(message, Contains("q.xlsx"));
    CHECK(bytes_in(folder.file("q.xlsx")) == "the older one");
    CHECK(files_in(folder) == 1);
}

TEST_CASE("a folder that may not be written to is an io_error that names the file") {
    const temporary_folder folder;
    const auto& season = quiet();
    std::string message, message_of_text;
    {
        const unwritable closed{folder};
        if (!closed.holds()) return;
        message = io_error_of([&] { write_workbook(season, {2026, 2}, folder.file("q.xlsx")); });
        message_of_text = io_error_of([&] { ledger::write_whole(folder.file("q.txt"), "text"); });
    }
    CHECK_THAT(message, Contains("q.xlsx"));
    CHECK_THAT(message_of_text, Contains("q.txt could not be written"));
    CHECK(files_in(folder) == 0);
}

TEST_CASE("a folder that is not there, or a folder in the file's place, is an io_error that says so") {
    const temporary_folder folder;
    const auto at = [&](const std::string& path) {
        return io_error_of([&] { write_workbook(quiet(), {2026, 2}, path); });
    };
    CHECK_THAT(at(folder.file("reports/q.xlsx")), Contains("there is no folder") && Contains("make it first"));
    CHECK_THAT(at(folder.path()), Contains("is a folder; name a file"));
    folder.write("file", "no folder");
    CHECK_THAT(at(folder.file("file/q.xlsx")), Contains("there is no folder"));
    CHECK(files_in(folder) == 1);
}

TEST_CASE("a text is written whole or not at all") {
    const temporary_folder folder;
    folder.write("page.html", "older");
    std::string message;
    {
        const file_size_limit full{1'000};
        message = io_error_of([&] { ledger::write_whole(folder.file("page.html"), std::string(5'000, 'x')); });
    }
    CHECK_THAT(message, Contains("page.html could not be written") && Contains("nothing was left there"));
    CHECK(bytes_in(folder.file("page.html")) == "older");
    ledger::write_whole(folder.file("page.html"), std::string(5'000, 'x'));
    CHECK(bytes_in(folder.file("page.html")) == std::string(5'000, 'x'));
    CHECK(files_in(folder) == 1);
}

TEST_CASE("a workbook that is begun and not finished leaves nothing") {
    const temporary_folder folder;
    {
        render::workbook_file book{folder.file("q.xlsx"), {}};
        book.begin_sheet({"One", {10}, 0, false, 0});
        book.text(0, 0, "text");
    }
    CHECK(files_in(folder) == 0);
}
