#include "ledger/image_file.hpp"

#include "quantity/large_room.hpp"

#include <cerrno>
#include <fcntl.h>
#include <sys/file.h>
#include <sys/stat.h>
#include <unistd.h>

namespace tarewell::ledger {
namespace {

class open_file {
  public:
    open_file(const std::string& path, int flags, mode_t mode = 0)
        : number_{::open(path.c_str(), flags | O_CLOEXEC, mode)} {}
    ~open_file() {
        if (number_ >= 0) ::close(number_);
    }
    open_file(const open_file&) = delete;
    open_file& operator=(const open_file&) = delete;
    explicit operator bool() const { return number_ >= 0; }
    [[nodiscard]] int number() const { return number_; }
    [[nodiscard]] struct stat status() const {
        struct stat found {};
        if (::fstat(number_, &found) != 0) found = {};
        return found;
    }

    /// Fewer bytes than the file had a moment ago are found out by whoever checks them.
    [[nodiscard]] image_memory read(std::size_t size) const {
        image_memory all{std::make_unique_for_overwrite<char[]>(size), 0};
        quantity::use_large_pages(all.bytes.get(), size);
        while (all.size < size) {
            const auto got = ::read(number_, all.bytes.get() + all.size, size - all.size);
            if (got < 0 && errno == EINTR) continue;
            if (got <= 0) break;
            all.size += static_cast<std::size_t>(got);
        }
        return all;
    }
    [[nodiscard]] bool write(std::string_view bytes) const {
        while (!bytes.empty()) {
            const auto put = ::write(number_, bytes.data(), bytes.size());
            if (put < 0 && errno == EINTR) continue;
            if (put <= 0) return false;
            bytes.remove_prefix(static_cast<std::size_t>(put));
        }
        return true;
    }

  private:
    int number_;
};

bool is_same_file(const struct stat& a, const struct stat& b) { return a.st_dev == b.st_dev && a.st_ino == b.st_ino; }

/// The file that is written, ours alone: another process that holds it writes the image itself. A file that it put in
/// place between our opening and our locking it is the image by now, and never written to.
bool is_ours(const open_file& partial, const std::string& path) {
    struct stat named {};
    return ::flock(partial.number(), LOCK_EX | LOCK_NB) == 0 && ::lstat(path.c_str(), &named) == 0 &&
           is_same_file(partial.status(), named);
}

} // namespace

std::string path_of_image(const ledger_file& of) { return of.path() + ".image"; }

bool can_have_image(const ledger_file& of) {
    struct stat found {};
    return ::stat(of.path().c_str(), &found) == 0 && S_ISREG(found.st_mode);
}

image read_image(const ledger_file& of) {
    const open_file file{path_of_image(of), O_RDONLY | O_NONBLOCK};
    if (!file) throw unusable_image("there is none");
    const auto found = file.status();
    if (!S_ISREG(found.st_mode)) throw unusable_image("it is no file");
    image kept;
    // Not mapped: what was checked must not change under who reads it, nor go away.
    kept.add_all(file.read(static_cast<std::size_t>(found.st_size)));
    kept.cut_to(of.head().seq);
    if (kept.reach() == 0) throw unusable_image("it reaches past the ledger's last entry");
    if (of.head_at(kept.reach()).hash != kept.segments().back().head) throw unusable_image("it is of another ledger");
    return kept;
}

void remove_image(const ledger_file& of) { ::unlink(path_of_image(of).c_str()); }

bool write_image(const ledger_file& of, const image& made) {
    struct stat ledger {};
    if (::stat(of.path().c_str(), &ledger) != 0 || !S_ISREG(ledger.st_mode)) return false;
    const auto path = path_of_image(of), partial = path + ".partial";
    const open_file file{partial, O_RDWR | O_CREAT | O_NOFOLLOW | O_NONBLOCK, S_IRUSR | S_IWUSR};
    if (!file || !S_ISREG(file.status().st_mode) || !is_ours(file, partial)) return false;
    // Who may read the ledger may read its image, and nobody else. No sync: what a crash leaves is found out and not
    // used.
    bool good = ::ftruncate(file.number(), 0) == 0;
    if (::fchown(file.number(), ledger.st_uid, ledger.st_gid) == 0)
        good = good && ::fchmod(file.number(), ledger.st_mode & 0666U) == 0;
    for (const auto& each : made.segments())
        good = good && file.write(each.bytes);
    good = good && ::rename(partial.c_str(), path.c_str()) == 0;
    if (!good) ::unlink(partial.c_str());
    return good;
}

} // namespace tarewell::ledger
