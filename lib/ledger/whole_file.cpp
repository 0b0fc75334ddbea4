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

/// errno tells why not.
bool sync(const std::string& path, int flags) {
    const int file = ::open(path.c_str(), flags | O_CLOEXEC);
    if (file < 0) return false;
    const int outcome = ::fsync(file);
    const int why = errno;
    ::close(file);
    errno = why;
    return outcome == 0;
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
    // Not by std::filesystem, which takes memory: it may have run out just before.
    if (!in_place_) ::unlink(partial_.c_str());
}

void whole_file::put_in_place() {
    const auto folder = fs::absolute(path_).parent_path().string();
    const auto unsure = path_ + " is written whole, but its folder could not be synced; write it again when the disk is well";
    if (!sync(partial_, O_RDONLY)) failed(path_, "synced");
    if (::rename(partial_.c_str(), path_.c_str()) != 0) failed(path_, "put in place");
    in_place_ = true;
    if (!sync(folder, O_RDONLY | O_DIRECTORY)) throw io_error(unsure);
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
