#include "render/zip_file.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>
#include <minizip/zip.h>

#include <algorithm>
#include <array>
#include <filesystem>
#include <fstream>
#include <memory>
#include <vector>

namespace tarewell::render {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void fail(const std::string& path) {
    throw records::io_error(fmt::format("{} could not be packed", path));
}

void put(zipFile into, const fs::path& file, const std::string& name) {
    std::ifstream from{file, std::ios::binary};
    zip_fileinfo when{};
    when.tmz_date.tm_year = 1980; // the earliest that a zip can say; the manifest tells what is what
    when.tmz_date.tm_mday = 1;
    if (!from || zipOpenNewFileInZip(into, name.c_str(), &when, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED,
                                     Z_DEFAULT_COMPRESSION) != ZIP_OK)
        fail(file.string());
    std::array<char, 65536> block{};
    while (from.read(block.data(), block.size()) || from.gcount() > 0)
        if (zipWriteInFileInZip(into, block.data(), static_cast<unsigned>(from.gcount())) != ZIP_OK)
            fail(file.string());
    if (from.bad() || zipCloseFileInZip(into) != ZIP_OK) fail(file.string());
}

} // namespace

void write_zip_of(const std::string& folder, const std::string& path) {
    const fs::path top{folder};
    std::vector<fs::path> files;
    for (const auto& each : fs::recursive_directory_iterator{top})
        if (each.is_regular_file()) files.push_back(each.path());
    std::sort(files.begin(), files.end());
    const auto close = [](void* open) { (void)zipClose(open, nullptr); };
    std::unique_ptr<void, decltype(close)> into{zipOpen64(path.c_str(), APPEND_STATUS_CREATE), close};
    if (!into) fail(path);
    for (const auto& each : files)
        put(into.get(), each, (top.filename() / each.lexically_relative(top)).generic_string());
    if (zipClose(into.release(), nullptr) != ZIP_OK) fail(path);
}

} // namespace tarewell::render
