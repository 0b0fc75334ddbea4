#pragma once
#include "shim_vfs.hpp"

#include <filesystem>
#include <fstream>
#include <map>
#include <memory>
#include <random>
#include <vector>

namespace tarewell::tests {

/// A disk_event that owns its bytes.
struct logged_event {
    disk_call what;
    std::string path;
    std::int64_t offset;
    std::string bytes;
};

inline bool changes_the_disk(disk_call what) {
    switch (what) {
    case disk_call::create:
    case disk_call::write:
    case disk_call::truncate:
    case disk_call::sync:
    case disk_call::unlink:
    case disk_call::sync_folder:
        return true;
    default:
        return false;
    }
}

/// What of a write not yet synced reached the disk, in shares of 512-byte sectors.
struct loss_model {
    double kept = 0.5;
    double trashed = 0; ///< of those not kept: the bytes written there are noise
};

/// One folder of files as a disk holds them: what was synced is safe; of the rest each sector, each
/// truncate, each new name and each unlink is kept or lost at random when the power goes.
class power_loss_disk {
  public:
    void apply(const logged_event& event) {
        switch (event.what) {
        case disk_call::create:
            now_[event.path] = std::make_shared<contents>();
            pending_names_.push_back({event.path, now_[event.path]});
            break;
        case disk_call::unlink:
            if (now_.erase(event.path) != 0) pending_names_.push_back({event.path, nullptr});
            break;
        case disk_call::sync_folder:
            for (const auto& change : pending_names_)
                put(safe_, change);
            pending_names_.clear();
            break;
        case disk_call::write:
        case disk_call::truncate:
            now_.at(event.path)->pending.push_back(event);
            break;
        case disk_call::sync: {
            auto& file = *now_.at(event.path);
            for (const auto& change : file.pending)
                put(file.safe, change);
            file.pending.clear();
            break;
        }
        default:
            break;
        }
    }

    /// The files as a program sees them while the power is on.
    [[nodiscard]] std::map<std::string, std::string> as_seen() const {
        std::map<std::string, std::string> files;
        for (const auto& [name, file] : now_) {
            auto& bytes = files[name] = file->safe;
            for (const auto& change : file->pending)
                put(bytes, change);
        }
        return files;
    }

    /// The files that are found when the power is back.
    [[nodiscard]] std::map<std::string, std::string> after_power_loss(std::mt19937_64& dice,
                                                                      const loss_model& model) const {
        auto names = safe_;
        for (const auto& change : pending_names_)
            if (chance(dice, model.kept)) put(names, change);
        std::map<std::string, std::string> files;
        for (const auto& [name, file] : names)
            files[name] = survivors(*file, dice, model);
        return files;
    }

  private:
    struct contents {
        std::string safe;
        std::vector<logged_event> pending;
    };
    using folder = std::map<std::string, std::shared_ptr<contents>>;
    struct name_change {
        std::string name;
        std::shared_ptr<contents> file; ///< null: unlinked
    };

    static bool chance(std::mt19937_64& dice, double share) { return std::bernoulli_distribution{share}(dice); }
    static void put(folder& names, const name_change& change) {
        if (change.file)
            names[change.name] = change.file;
        else
            names.erase(change.name);
    }
    static void put(std::string& bytes, std::size_t offset, std::string_view part) {
        if (bytes.size() < offset + part.size()) bytes.resize(offset + part.size(), '\0');
        bytes.replace(offset, part.size(), part);
    }
    static void put(std::string& bytes, const logged_event& change) {
        const auto offset = static_cast<std::size_t>(change.offset);
        if (change.what == disk_call::truncate)
            bytes.resize(offset, '\0');
        else
            put(bytes, offset, change.bytes);
    }

    static std::string survivors(const contents& file, std::mt19937_64& dice, const loss_model& model) {
        std::string bytes = file.safe;
        std::size_t longest = bytes.size();
        for (const auto& change : file.pending) {
            if (change.what == disk_call::truncate) {
                if (chance(dice, model.kept)) put(bytes, change);
                continue;
            }
            put_sectors(bytes, change, dice, model);
            longest = std::max(longest, static_cast<std::size_t>(change.offset) + change.bytes.size());
        }
        // The new length may arrive without what was written there.
        if (longest > bytes.size() && chance(dice, model.kept)) bytes.resize(longest, '\0');
        return bytes;
    }
    static void put_sectors(std::string& bytes, const logged_event& change, std::mt19937_64& dice,
                            const loss_model& model) {
        constexpr std::size_t sector = 512;
        const auto begin = static_cast<std::size_t>(change.offset);
        const auto end = begin + change.bytes.size();
        for (std::size_t at = begin; at < end;) {
            const auto next = std::min(end, (at / sector + 1) * sector);
            const auto part = std::string_view{change.bytes}.substr(at - begin, next - at);
            if (chance(dice, model.kept))
                put(bytes, at, part);
            else if (chance(dice, model.trashed))
                put(bytes, at, noise(part.size(), dice));
            at = next;
        }
    }
    static std::string noise(std::size_t size, std::mt19937_64& dice) {
        std::string bytes(size, '\0');
        for (auto& byte : bytes)
            byte = static_cast<char>(dice());
        return bytes;
    }

    folder now_, safe_;
    std::vector<name_change> pending_names_;
};

/// Writes the files, and takes away those that the disk no longer has.
inline void put_on_disk(const std::string& in, const std::map<std::string, std::string>& files) {
    namespace fs = std::filesystem;
    for (const auto& each : fs::directory_iterator{in})
        fs::remove(each.path());
    for (const auto& [name, bytes] : files) {
        std::ofstream out{fs::path{in} / fs::path{name}.filename(), std::ios::binary};
        out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
        if (!out.flush()) throw std::runtime_error("cannot write " + name);
    }
}

} // namespace tarewell::tests
