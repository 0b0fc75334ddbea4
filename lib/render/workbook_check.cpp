#include "render/workbook_check.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>
#include <minizip/unzip.h>

#include <algorithm>
#include <array>
#include <cstdlib>
#include <fstream>
#include <memory>
#include <string_view>

namespace tarewell::render {
namespace {

struct closer {
    void operator()(void* file) const { unzClose(file); }
};
using zip = std::unique_ptr<void, closer>;

[[noreturn]] void damaged(const std::string& path, const std::string& what) {
    throw records::io_error(
        fmt::format("{} was not written whole ({}); is the disk full? Nothing was left there", path, what));
}

/// Counts tags over blocks: a tag may lie across the edge of two.
class tag_counter {
  public:
    void feed(std::string_view block) {
        if (beginning_.size() < enough_of_beginning) beginning_ += block.substr(0, enough_of_beginning);
        ending_ = (ending_ + std::string{block})
                      .substr(std::max(ending_.size() + block.size(), enough_of_ending) - enough_of_ending);
        text_ += block;
        std::size_t at = 0;
        while ((at = text_.find('<', at)) != std::string::npos) {
            if (text_.size() - at < longest_tag) break;
            const std::string_view rest{text_.data() + at, text_.size() - at};
            take(rest);
            ++at;
        }
        text_.erase(0, at == std::string::npos ? text_.size() : at);
    }
    void end() {
        for (std::size_t at = 0; (at = text_.find('<', at)) != std::string::npos; ++at)
            take(std::string_view{text_.data() + at, text_.size() - at});
    }
    std::uint64_t rows = 0, cells = 0, texts = 0;
    bool closed = false;

    /// The part ends with the end of its outermost element.
    [[nodiscard]] bool is_whole() const {
        auto at = beginning_.find('<');
        while (at != std::string::npos && beginning_.compare(at, 2, "<?") == 0)
            at = beginning_.find('<', at + 1);
        if (at == std::string::npos) return false;
        const auto name = beginning_.substr(at + 1, beginning_.find_first_of(" />", at + 1) - at - 1);
        const auto last = ending_.find_last_not_of(" \r\n");
        const auto end = std::string_view{ending_}.substr(0, last == std::string::npos ? 0 : last + 1);
        return end.ends_with("</" + name + ">") ||
               (end.ends_with("/>") && beginning_.find('<', at + 1) == std::string::npos);
    }
    /// How many texts the part of shared texts says that it has.
    [[nodiscard]] std::uint64_t said_texts() const {
        constexpr std::string_view key = "uniqueCount=\"";
        const auto at = beginning_.find(key);
        return at == std::string::npos ? 0 : std::strtoull(beginning_.c_str() + at + key.size(), nullptr, 10);
    }

  private:
    static constexpr std::size_t longest_tag = 12, enough_of_beginning = 512, enough_of_ending = 64;
    std::string text_, beginning_, ending_;

    void take(std::string_view rest) {
        if (rest.starts_with("<c "))
            ++cells;
        else if (rest.starts_with("<row "))
            ++rows;
        else if (rest.starts_with("<si>"))
            ++texts;
        else if (rest.starts_with("</worksheet>"))
            closed = true;
    }
};

void read_part(unzFile file, const std::string& path, const std::string& name, tag_counter& counter) {
    if (unzOpenCurrentFile(file) != UNZ_OK) damaged(path, name);
    std::array<char, 1U << 16U> block{};
    int read = 0;
    while ((read = unzReadCurrentFile(file, block.data(), block.size())) > 0)
        counter.feed({block.data(), static_cast<std::size_t>(read)});
    if (read < 0 || unzCloseCurrentFile(file) != UNZ_OK) damaged(path, name + " fails its checksum");
    counter.end();
}

/// A zip file ends with a record of 22 bytes; the reader takes it even where the last of them is cut off.
void check_end(const std::string& path) {
    constexpr std::streamoff record_size = 22;
    constexpr std::string_view begins{"PK\5\6"};
    std::ifstream in{path, std::ios::binary | std::ios::ate};
    std::array<char, begins.size()> found{};
    if (in.tellg() < record_size || !in.seekg(-record_size, std::ios::end) || !in.read(found.data(), found.size()) ||
        std::string_view{found.data(), found.size()} != begins)
        damaged(path, "its end is cut off");
}

} // namespace

void check_workbook(const std::string& path, const std::vector<expected_sheet>& expected) {
    const zip file{unzOpen64(path.c_str())};
    if (!file) damaged(path, "it is no zip file");
    check_end(path);
    std::size_t sheets = 0, tables = 0, charts = 0;
    for (int found = unzGoToFirstFile(file.get()); found == UNZ_OK; found = unzGoToNextFile(file.get())) {
        std::array<char, 256> name{};
        unzGetCurrentFileInfo64(file.get(), nullptr, name.data(), name.size(), nullptr, 0, nullptr, 0);
        tag_counter counter;
        read_part(file.get(), path, name.data(), counter);
        const std::string_view part{name.data()};
        constexpr std::string_view prefix = "xl/worksheets/sheet";
        if (part.starts_with("xl/tables/")) ++tables;
        if (part.starts_with("xl/charts/")) ++charts;
        if (!part.starts_with(prefix) || !part.ends_with(".xml")) {
            const bool texts = part == "xl/sharedStrings.xml";
            if (!counter.is_whole() || (texts && counter.texts != counter.said_texts()))
                damaged(path, std::string{part} + " is cut short");
            continue;
        }
        const auto number = std::stoul(std::string{part.substr(prefix.size())});
        if (number == 0 || number > expected.size()) damaged(path, "it has a sheet too many");
        const auto& sheet = expected[number - 1];
        ++sheets;
        if (!counter.closed || counter.rows < sheet.rows || counter.cells < sheet.cells)
            damaged(path, fmt::format("sheet {} has {} rows and {} cells of {} and {}", sheet.name, counter.rows,
                                      counter.cells, sheet.rows, sheet.cells));
    }
    if (sheets != expected.size()) damaged(path, fmt::format("{} sheets of {}", sheets, expected.size()));
    std::size_t all_tables = 0, all_charts = 0;
    for (const auto& each : expected)
        all_tables += each.tables, all_charts += each.charts;
    if (tables != all_tables || charts != all_charts)
        damaged(path, fmt::format("{} tables and {} charts of {} and {}", tables, charts, all_tables, all_charts));
}

} // namespace tarewell::render
