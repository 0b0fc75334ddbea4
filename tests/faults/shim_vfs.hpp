#pragma once
#include <sqlite3.h>

#include <cstring>
#include <functional>
#include <stdexcept>
#include <string>
#include <string_view>

namespace tarewell::tests {

/// What SQLite asks of the disk.
enum class disk_call {
    open,
    create,
    close,
    read,
    write,
    truncate,
    sync,
    size,
    lock,
    unlock,
    unlink,
    sync_folder,
    access
};

struct disk_event {
    disk_call what{};
    std::string path;
    std::int64_t offset = 0; ///< of a write; the new size of a truncate
    std::string_view bytes;  ///< of a write, good until the watcher returns
};

/// Stands between SQLite and the disk as the default VFS while it lives: each call is shown to the
/// watcher first, which lets it through (SQLITE_OK) or answers with an error code in its place. What is
/// let through reaches real files, syncs apart, which would only cost time. Drawn numbers are the same
/// in each run. As the unix VFS does, the first sync of a new journal syncs its folder too, and an unlink
/// syncs the folder only when asked to (as by synchronous = EXTRA).
class shim_vfs {
  public:
    using watcher = std::function<int(const disk_event&)>;

    explicit shim_vfs(watcher watch) : watch_{std::move(watch)}, real_{sqlite3_vfs_find(nullptr)} {
        vfs_ = *real_;
        vfs_.zName = "tarewell_test_shim";
        vfs_.iVersion = 1;
        vfs_.szOsFile = static_cast<int>(sizeof(file)) + real_->szOsFile;
        vfs_.pAppData = this;
        vfs_.xOpen = open;
        vfs_.xDelete = unlink;
        vfs_.xAccess = access;
        vfs_.xFullPathname = full_path;
        vfs_.xRandomness = draw;
        vfs_.xSleep = sleep;
        if (sqlite3_vfs_register(&vfs_, 1) != SQLITE_OK) throw std::runtime_error("no VFS of the test's own");
        sqlite3_randomness(0, nullptr); // SQLite's own generator begins again, from `draw`
    }
    ~shim_vfs() {
        sqlite3_vfs_unregister(&vfs_);
        sqlite3_vfs_register(real_, 1);
        sqlite3_randomness(0, nullptr);
    }
    shim_vfs(const shim_vfs&) = delete;
    shim_vfs& operator=(const shim_vfs&) = delete;

  private:
    struct file {
        sqlite3_file base;
        shim_vfs* owner;
        const char* path; ///< SQLite keeps it as long as the file is open
        bool folder_to_sync;
        [[nodiscard]] sqlite3_file* real() { return reinterpret_cast<sqlite3_file*>(this + 1); }
        int ask(disk_call what, std::int64_t offset = 0, std::string_view bytes = {}) {
            return owner->ask(what, path, offset, bytes);
        }
    };

    static shim_vfs& of(sqlite3_vfs* vfs) { return *static_cast<shim_vfs*>(vfs->pAppData); }
    static file& of(sqlite3_file* opened) { return *reinterpret_cast<file*>(opened); }
    static int (*the(sqlite3_file* opened, int (*sqlite3_io_methods::*method)(sqlite3_file*)))(sqlite3_file*) {
        return of(opened).real()->pMethods->*method;
    }

    int ask(disk_call what, const char* path, std::int64_t offset = 0, std::string_view bytes = {}) {
        return path == nullptr ? SQLITE_OK : watch_({what, path, offset, bytes});
    }

    static int open(sqlite3_vfs* vfs, const char* path, sqlite3_file* opened, int flags, int* flags_out) {
        auto& self = of(vfs);
        auto& made = of(opened);
        std::memset(opened, 0, sizeof made);
        int there = 1;
        if (path != nullptr && (flags & SQLITE_OPEN_CREATE) != 0)
            self.real_->xAccess(self.real_, path, SQLITE_ACCESS_EXISTS, &there);
        const bool creates = there == 0;
        if (const int code = self.ask(creates ? disk_call::create : disk_call::open, path); code != SQLITE_OK)
            return code;
        made.owner = &self;
        made.path = path;
        made.folder_to_sync = creates && (flags & SQLITE_OPEN_MAIN_JOURNAL) != 0;
        const int code = self.real_->xOpen(self.real_, path, made.real(), flags, flags_out);
        // pMethods stays empty when nothing was opened: SQLite then doesn't close it.
        if (made.real()->pMethods != nullptr) made.base.pMethods = &methods();
        return code;
    }

    static int unlink(sqlite3_vfs* vfs, const char* path, int sync_folder) {
        auto& self = of(vfs);
        if (const int code = self.ask(disk_call::unlink, path); code != SQLITE_OK) return code;
        const int code = self.real_->xDelete(self.real_, path, 0);
        if (code != SQLITE_OK || sync_folder == 0) return code;
        return self.ask(disk_call::sync_folder, path);
    }
    static int access(sqlite3_vfs* vfs, const char* path, int flags, int* result) {
        auto& self = of(vfs);
        if (const int code = self.ask(disk_call::access, path); code != SQLITE_OK) return code;
        return self.real_->xAccess(self.real_, path, flags, result);
    }
    static int full_path(sqlite3_vfs* vfs, const char* path, int room, char* full) {
        return of(vfs).real_->xFullPathname(of(vfs).real_, path, room, full);
    }
    static int draw(sqlite3_vfs*, int count, char* bytes) {
        for (int i = 0; i < count; ++i)
            bytes[i] = static_cast<char>(i * 37 + 11);
        return count;
    }
    // Waiting for a lock takes no time here.
    static int sleep(sqlite3_vfs*, int microseconds) { return microseconds; }

    // Version 1: no shared memory and no mapping, so that nothing passes the watcher by.
    static const sqlite3_io_methods& methods() {
        static const sqlite3_io_methods table = [] {
            sqlite3_io_methods made{};
            made.iVersion = 1;
            made.xClose = close;
            made.xRead = read;
            made.xWrite = write;
            made.xTruncate = truncate;
            made.xSync = sync;
            made.xFileSize = size;
            made.xLock = lock;
            made.xUnlock = unlock;
            made.xCheckReservedLock = is_reserved;
            made.xFileControl = control;
            made.xSectorSize = [](sqlite3_file* opened) {
                return the(opened, &sqlite3_io_methods::xSectorSize)(of(opened).real());
            };
            made.xDeviceCharacteristics = [](sqlite3_file* opened) {
                return the(opened, &sqlite3_io_methods::xDeviceCharacteristics)(of(opened).real());
            };
            return made;
        }();
        return table;
    }
    // Closing always works: what is open must not leak out of a test.
    static int close(sqlite3_file* opened) {
        of(opened).ask(disk_call::close);
        return the(opened, &sqlite3_io_methods::xClose)(of(opened).real());
    }
    static int read(sqlite3_file* opened, void* into, int count, sqlite3_int64 offset) {
        if (const int code = of(opened).ask(disk_call::read, offset); code != SQLITE_OK) return code;
        auto* real = of(opened).real();
        return real->pMethods->xRead(real, into, count, offset);
    }
    static int write(sqlite3_file* opened, const void* from, int count, sqlite3_int64 offset) {
        const std::string_view bytes{static_cast<const char*>(from), static_cast<std::size_t>(count)};
        if (const int code = of(opened).ask(disk_call::write, offset, bytes); code != SQLITE_OK) return code;
        auto* real = of(opened).real();
        return real->pMethods->xWrite(real, from, count, offset);
    }
    static int truncate(sqlite3_file* opened, sqlite3_int64 to) {
        if (const int code = of(opened).ask(disk_call::truncate, to); code != SQLITE_OK) return code;
        auto* real = of(opened).real();
        return real->pMethods->xTruncate(real, to);
    }
    static int sync(sqlite3_file* opened, int /*flags*/) {
        auto& synced = of(opened);
        if (const int code = synced.ask(disk_call::sync); code != SQLITE_OK) return code;
        if (!synced.folder_to_sync) return SQLITE_OK;
        synced.folder_to_sync = false;
        return synced.ask(disk_call::sync_folder);
    }
    static int size(sqlite3_file* opened, sqlite3_int64* into) {
        if (const int code = of(opened).ask(disk_call::size); code != SQLITE_OK) return code;
        auto* real = of(opened).real();
        return real->pMethods->xFileSize(real, into);
    }
    static int lock(sqlite3_file* opened, int level) {
        if (const int code = of(opened).ask(disk_call::lock); code != SQLITE_OK) return code;
        auto* real = of(opened).real();
        return real->pMethods->xLock(real, level);
    }
    static int unlock(sqlite3_file* opened, int level) {
        auto* real = of(opened).real();
        return real->pMethods->xUnlock(real, level);
    }
    static int is_reserved(sqlite3_file* opened, int* result) {
        auto* real = of(opened).real();
        return real->pMethods->xCheckReservedLock(real, result);
    }
    static int control(sqlite3_file* opened, int operation, void* argument) {
        auto* real = of(opened).real();
        return real->pMethods->xFileControl(real, operation, argument);
    }

    watcher watch_;
    sqlite3_vfs* real_;
    sqlite3_vfs vfs_{};
};

} // namespace tarewell::tests
