#pragma once
#include "ledger/ledger.hpp"
#include "paths.hpp"

#include <fmt/format.h>

#include <filesystem>
#include <fstream>
#include <iterator>
#include <memory>
#include <random>
#include <stdexcept>
#include <string>
#include <string_view>

namespace tarewell::tests {

/// A folder of the test's own, taken away with everything in it at the end.
class temporary_folder {
  public:
    explicit temporary_folder(const std::filesystem::path& parent = std::filesystem::temp_directory_path()) {
        std::random_device dice;
        do {
            path_ = parent / fmt::format("tarewell_test_{:08x}{:08x}", dice(), dice());
        } while (!std::filesystem::create_directory(path_));
    }
    ~temporary_folder() {
        std::error_code ignored;
        std::filesystem::remove_all(path_, ignored);
    }
    temporary_folder(const temporary_folder&) = delete;
    temporary_folder& operator=(const temporary_folder&) = delete;

    [[nodiscard]] std::string path() const { return path_.string(); }
    [[nodiscard]] std::string file(std::string_view name) const { return (path_ / name).string(); }

    /// Writes the bytes as they are; returns the file's path.
    std::string write(std::string_view name, std::string_view text) const {
        std::ofstream out{path_ / name, std::ios::binary};
        out.write(text.data(), static_cast<std::streamsize>(text.size()));
        if (!out.flush()) throw std::runtime_error("cannot write " + file(name));
        return file(name);
    }

  private:
    std::filesystem::path path_;
};

inline std::string bytes_in(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    if (!in) throw std::runtime_error("cannot read " + path);
    return {std::istreambuf_iterator<char>{in}, {}};
}

/// A world that stands still: one moment, one person, salts that count up from 1.
inline ledger::surroundings standing_still() {
    const auto drawn = std::make_shared<std::uint64_t>(0);
    return {[] { return std::string{"2027-05-14T09:30:00Z"}; }, [drawn] { return fmt::format("{:032x}", ++*drawn); },
            "Ruth Ames"};
}

/// The message of the exception of this type that `body` throws; fails the test when it does not.
template <class Exception, class Body> std::string message_of(Body&& body) {
    try {
        body();
    } catch (const Exception& thrown) {
        return thrown.what();
    }
    throw std::logic_error("the exception that was expected was not thrown");
}

} // namespace tarewell::tests
