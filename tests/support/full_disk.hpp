#pragma once
#include "records/errors.hpp"
#include "support.hpp"

#include <csignal>
#include <cstdio>
#include <fcntl.h>
#include <sched.h>
#include <sys/mount.h>
#include <sys/resource.h>
#include <unistd.h>

namespace tarewell::tests {

/// While it lives nothing shows on stderr: libxlsxwriter talks there of what it cannot write.
class quiet_stderr {
  public:
    quiet_stderr() : before_{dup(STDERR_FILENO)} {
        const int nowhere = open("/dev/null", O_WRONLY | O_CLOEXEC);
        dup2(nowhere, STDERR_FILENO);
        close(nowhere);
    }
    ~quiet_stderr() {
        std::fflush(stderr);
        dup2(before_, STDERR_FILENO);
        close(before_);
    }
    quiet_stderr(const quiet_stderr&) = delete;
    quiet_stderr& operator=(const quiet_stderr&) = delete;

  private:
    int before_;
};

/// While it lives no file can grow past a size: writing fails as on a full disk.
class file_size_limit {
  public:
    explicit file_size_limit(rlim_t bytes) : handler_{std::signal(SIGXFSZ, SIG_IGN)} {
        getrlimit(RLIMIT_FSIZE, &before_);
        const rlimit now{bytes, before_.rlim_max};
        setrlimit(RLIMIT_FSIZE, &now);
    }
    ~file_size_limit() {
        setrlimit(RLIMIT_FSIZE, &before_);
        std::signal(SIGXFSZ, handler_);
    }
    file_size_limit(const file_size_limit&) = delete;
    file_size_limit& operator=(const file_size_limit&) = delete;

  private:
    quiet_stderr quiet_;
    rlimit before_{};
    void (*handler_)(int);
};

/// While it lives the folder is a disk of its own, of so many blocks (4 KiB) and files. Where mounting is not allowed
/// `holds()` is false.
class small_disk {
  public:
    small_disk(const temporary_folder& folder, std::size_t blocks, std::size_t files = 1'000) : path_{folder.path()} {
        const auto size = fmt::format("size={}k,nr_inodes={}", 4 * blocks, files + 1); // and the folder itself
        mounted_ = apart() && mount("tmpfs", path_.c_str(), "tmpfs", 0, size.c_str()) == 0;
    }
    ~small_disk() {
        if (mounted_) umount2(path_.c_str(), MNT_DETACH);
    }
    small_disk(const small_disk&) = delete;
    small_disk& operator=(const small_disk&) = delete;
    [[nodiscard]] bool holds() const { return mounted_; }

  private:
    /// Mounts are seen by this process alone, and end with it.
    static bool apart() {
        static const bool done =
            unshare(CLONE_NEWNS) == 0 && mount(nullptr, "/", nullptr, MS_REC | MS_PRIVATE, nullptr) == 0;
        return done;
    }

    quiet_stderr quiet_;
    std::string path_;
    bool mounted_ = false;
};

/// The message of an io_error, "" when all went well; anything else fails the test.
template <class Body> std::string io_error_of(Body&& body) {
    try {
        body();
    } catch (const records::io_error& failure) {
        return failure.what();
    }
    return {};
}

} // namespace tarewell::tests
