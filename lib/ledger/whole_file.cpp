#include "ledger/whole_file.hpp"

#include "records/errors.hpp"

#include <array>
#include <cerrno>
#include <cstring>
#include <fcntl.h>
#include <filesystem>
#include <fmt/format.h>
#include <fstream>
#include <unistd.h>

namespace tarewell::ledger {

using namespace records; // NOLINT
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

bool is_database(const fs::path& path) {
    constexpr std::string_view begins{"SQLite format 3\0", 16};
    std::array<char, begins.size()> bytes{};
    std::ifstream in{path, std::ios::binary};
    in.read(bytes.data(), bytes.size());
    return in && std::string_view{bytes.data(), bytes.size()} == begins;
}

/// A ledger, what SQLite keeps beside one, and a device are never written over; a restore may replace a ledger.
void refuse_what_is_there(const std::string& path, whole_file::over what) {
    std::error_code failure;
    const auto there = fs::status(path, failure);
    if (fs::is_directory(there)) throw io_error(path + " is a folder; name a file");
    if (fs::exists(there) && !fs::is_regular_file(there))
        throw io_error(path + " is a device or pipe and no file; name a file");
    if (what == whole_file::over::ledgers_too) return;
    auto owner = path;
    for (const std::string_view end : {"-journal", "-wal", "-shm"})
        if (path.ends_with(end)) owner.resize(path.size() - end.size());
    if (fs::is_regular_file(owner, failure) && is_database(owner))
        throw input_error(
            path + (owner == path ? " is a ledger or another database" : " belongs to a ledger or another database") +
            ", which is never written over; name another file");
}

} // namespace

whole_file::whole_file(std::string path, over what) : path_{std::move(path)} {
    std::error_code no_link;
    if (fs::is_symlink(path_, no_link)) path_ = fs::weakly_canonical(path_).string(); // the link stays a link
    partial_ = fmt::format("{}.{}.partial", path_, ::getpid());
    const auto folder = fs::absolute(path_).parent_path();
    if (!fs::is_directory(folder))
        throw io_error(fmt::format("{}: there is no folder {}; make it first", path_, folder.string()));
    refuse_what_is_there(path_, what);
}

whole_file::~whole_file() {
    // Not by std::filesystem, which takes memory: it may have run out just before.
    if (!in_place_) ::unlink(partial_.c_str());
}

void whole_file::put_in_place() {
    const auto folder = fs::absolute(path_).parent_path().string();
    const auto unsure =
        path_ + " is written whole, but its folder could not be synced; write it again when the disk is well";
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
