#include "ledger/documents.hpp"

#include "ledger/database_url.hpp"
#include "ledger/document_bytes.hpp"
#include "ledger/inside.hpp"
#include "ledger/whole_file.hpp"

#include <fmt/format.h>

#include <charconv>
#include <filesystem>
#include <fstream>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

namespace fs = std::filesystem;

constexpr const char* content_sql = "SELECT encode(content, 'hex') FROM document_content WHERE sha256 = ?1";
constexpr const char* keep_sql =
    "INSERT INTO document_content (sha256, content) VALUES (?1, decode(?2, 'hex')) ON CONFLICT DO NOTHING";

std::string folder_of(const std::string& path) { return path + ".documents"; }

std::string bytes_of_file(const fs::path& path) {
    std::ifstream in{path, std::ios::binary};
    std::string bytes{std::istreambuf_iterator<char>{in}, {}};
    if (!in || in.bad()) throw io_error(fmt::format("{} could not be read to its end", path.string()));
    return bytes;
}

std::string hex_of(std::string_view bytes) {
    constexpr std::string_view digits = "0123456789abcdef";
    std::string made;
    made.reserve(2 * bytes.size() + 1);
    for (const char each : bytes) {
        const auto value = static_cast<unsigned char>(each);
        made += digits[value >> 4U];
        made += digits[value & 15U];
    }
    return made;
}

std::string bytes_of_hex(std::string_view text) {
    std::string made(text.size() / 2, '\0');
    for (std::size_t i = 0; i < made.size(); ++i) {
        unsigned char value = 0;
        std::from_chars(text.data() + 2 * i, text.data() + 2 * i + 2, value, 16);
        made[i] = static_cast<char>(value);
    }
    return made;
}

} // namespace

std::optional<std::string> document_in(engine& in, const std::string& path, const std::string& sha256) {
    if (is_in_database(path)) {
        const auto asked = in.prepare(content_sql);
        asked->bind(1, sha256);
        if (!asked->step()) return std::nullopt;
        return bytes_of_hex(asked->text(0));
    }
    const auto kept = fs::path{folder_of(path)} / sha256;
    if (!fs::exists(kept)) return std::nullopt;
    return bytes_of_file(kept);
}

void keep_document_in(engine& in, const std::string& path, const std::string& sha256, const std::string& bytes) {
    if (is_in_database(path)) {
        const auto keep = in.prepare(keep_sql);
        keep->bind(1, sha256);
        const auto text = hex_of(bytes);
        keep->bind(2, text.empty() ? std::string_view{" "} : std::string_view{text}); // decode passes over spaces
        keep->step();
        return;
    }
    std::error_code failure;
    fs::create_directories(folder_of(path), failure);
    const auto kept = (fs::path{folder_of(path)} / sha256).string();
    if (!fs::exists(kept)) write_whole(kept, bytes);
}

std::string documents_folder(const ledger_file& of) {
    return is_in_database(of.path()) ? std::string{} : folder_of(of.path());
}

std::optional<std::string> document(const ledger_file& of, const std::string& sha256) {
    return guarded(of.inside(), [&] { return document_in(*of.inside().store, of.path(), sha256); });
}

void keep_document(ledger_file& in, const std::string& sha256, const std::string& bytes) {
    guarded(in.inside(), [&] { keep_document_in(*in.inside().store, in.path(), sha256, bytes); });
}

} // namespace tarewell::ledger
