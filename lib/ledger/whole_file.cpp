#include "ledger/whole_file.hpp"

#include "ledger/errors.hpp"

#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

namespace tarewell::ledger {
namespace {

namespace fs = std::filesystem;

[[noreturn]] void failed(const std::string& path, const char* doing) {
    throw io_error(fmt::format("{} could not be {}: {}; nothing was left there", path, doing, std::strerror(errno)));
}

void sync(const std::string& path, int flags, const std::string& target) {
    const int file = ::open(path.c_str(), flags | O_CLOEXEC);
    if (file < 0) failed(target, "synced");
    const int outcome = ::fsync(file);
    ::close(file);
    if (outcome != 0) failed(target, "synced");
}

} // namespace

whole_file::whole_file(std::string path) : path_{std::move(path)} {
    partial_ = fmt::format("{}.{}.partial", path_, ::getpid());
    const auto folder = fs::absolute(path_).parent_path();
    if (!fs::is_directory(folder))
        throw io_error(fmt::format("{}: there is no folder {}; make it first", path_, folder.string()));
    if (fs::is_directory(path_)) throw io_error(path_ + " is a folder; name a file");
}

whole_file::~whole_file() {
    if (in_place_) return;
    std::error_code ignored;
    fs::remove(partial_, ignored);
}

void whole_file::put_in_place() {
    sync(partial_, O_RDONLY, path_);
    if (::rename(partial_.c_str(), path_.c_str()) != 0) failed(path_, "put in place");
    in_place_ = true;
    sync(fs::absolute(path_).parent_path().string(), O_RDONLY | O_DIRECTORY, path_);
}

void write_whole(const std::string& path, std::string_view text) {
    whole_file file{path};
    {
        std::ofstream out{file.partial(), std::ios::binary | std::ios::trunc};
        out.write(text.data(), static_cast<std::streamsize>(text.size()));
        out.close();
        if (!out) failed(path, "written");
    }
    file.put_in_place();
}

} // namespace tarewell::ledger
