#include "office/scratch.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>

#include <cstdlib>
#include <filesystem>
#include <fstream>
#include <iterator>

namespace tarewell::office {

scratch_folder::scratch_folder() {
    auto pattern = (std::filesystem::temp_directory_path() / "tarewell_office_XXXXXX").string();
    if (mkdtemp(pattern.data()) == nullptr) throw records::io_error(fmt::format("{} could not be made", pattern));
    path_ = pattern;
}

scratch_folder::~scratch_folder() {
    std::error_code ignored;
    std::filesystem::remove_all(path_, ignored);
}

std::string plain_name(std::string_view name) {
    name.remove_prefix(std::min(name.find_last_of("/\\") + 1, name.size())); // npos + 1 is 0
    std::string plain;
    for (const char c : name) {
        const bool good = (c >= 'a' && c <= 'z') || (c >= 'A' && c <= 'Z') || (c >= '0' && c <= '9') || c == '.' ||
                          c == '_' || c == '-' || c == ' ';
        plain += good ? c : '_';
    }
    if (plain.size() > 100) plain.erase(0, plain.size() - 100); // the ending tells what it is
    return plain.find_first_not_of(". ") == std::string::npos ? "file" : plain;
}

std::string scratch_folder::path_for(std::string_view name) const {
    return (std::filesystem::path{path_} / plain_name(name)).string();
}

std::string scratch_folder::write(std::string_view name, std::string_view bytes) const {
    auto path = path_for(name);
    std::ofstream out{path, std::ios::binary};
    out.write(bytes.data(), static_cast<std::streamsize>(bytes.size()));
    if (!out.flush()) throw records::io_error(fmt::format("{} could not be written", path));
    return path;
}

std::string bytes_of(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    std::string bytes{std::istreambuf_iterator<char>{in}, {}};
    if (!in || in.bad()) throw records::io_error(fmt::format("{} could not be read", path));
    return bytes;
}

} // namespace tarewell::office
