#include "intake/zip_rewrite.hpp"

#include "intake/row_reader.hpp"

#include <fmt/format.h>
#include <zlib.h>

#include <algorithm>
#include <array>
#include <cstdint>
#include <new>
#include <vector>

namespace tarewell::intake {
namespace {

// Records of a zip file, each with its signature (PKWARE's APPNOTE.TXT 4.3; from memory).
constexpr std::string_view local_begins{"PK\3\4", 4}, listed_begins{"PK\1\2", 4}, end_begins{"PK\5\6", 4};
constexpr std::size_t local_size = 30, listed_size = 46, end_size = 22, longest_comment = 65'535;
constexpr unsigned deflated = 8, name_is_utf8 = 1U << 11U, version_needed = 20;

[[noreturn]] void refuse(const std::string& what) {
    throw unreadable("the file " + what, "open it in the spreadsheet program and save it again as .xlsx");
}

std::uint32_t number_at(std::string_view bytes, std::size_t at, std::size_t size) {
    if (at > bytes.size() || bytes.size() - at < size) refuse("is damaged: the list of its parts is cut short");
    std::uint32_t value = 0;
    for (std::size_t i = size; i-- > 0;)
        value = value << 8U | static_cast<unsigned char>(bytes[at + i]);
    return value;
}

void put(std::string& to, std::size_t at, std::size_t value, std::size_t size) {
    if (size == 4 && value > 0xFFFF'FFFEU) refuse("would be larger than 4 GB");
    for (std::size_t i = 0; i < size; ++i)
        to[at + i] = static_cast<char>(value >> (8 * i) & 0xFFU);
}

std::string lower(std::string_view text) {
    std::string made{text};
    for (auto& each : made)
        if (each >= 'A' && each <= 'Z') each = static_cast<char>(each - 'A' + 'a');
    return made;
}

/// The record at the end, which a comment may follow.
std::size_t end_of(std::string_view zip) {
    for (std::size_t back = end_size; back <= std::min(zip.size(), end_size + longest_comment); ++back) {
        const auto at = zip.size() - back;
        if (zip.substr(at, 4) == end_begins && number_at(zip, at + 20, 2) == back - end_size) return at;
    }
    refuse("is damaged: it has no list of its parts (it may be cut short)");
}

struct part {
    std::string name;
    std::string listed; ///< its record in the list
    std::size_t at = 0, to = 0, moved_to = 0;
};

struct archive {
    std::vector<part> parts; ///< as listed
    std::size_t list = 0, end = 0;
};

archive read(std::string_view zip) {
    archive made;
    made.end = end_of(zip);
    const auto count = number_at(zip, made.end + 10, 2);
    const auto size = number_at(zip, made.end + 12, 4);
    made.list = number_at(zip, made.end + 16, 4);
    if (count == 0xFFFFU || size == 0xFFFF'FFFFU || made.list == 0xFFFF'FFFFU)
        refuse("is a zip file of the 64-bit kind, which no form needs");
    if (number_at(zip, made.end + 4, 4) != 0 || number_at(zip, made.end + 8, 2) != count)
        refuse("is a part of a zip file of several volumes");
    if (made.list > made.end || made.end - made.list != size)
        refuse("is damaged: the list of its parts is not where it says");
    for (std::size_t at = made.list, i = 0; i < count; ++i) {
        if (zip.substr(at, 4) != listed_begins) refuse("is damaged: the list of its parts cannot be read");
        const auto whole =
            listed_size + number_at(zip, at + 28, 2) + number_at(zip, at + 30, 2) + number_at(zip, at + 32, 2);
        if (made.end - at < whole) refuse("is damaged: the list of its parts is cut short");
        part one;
        one.listed = zip.substr(at, whole);
        one.name = one.listed.substr(listed_size, number_at(one.listed, 28, 2));
        one.at = number_at(one.listed, 42, 4);
        if (one.at >= made.list || zip.substr(one.at, 4) != local_begins)
            refuse(fmt::format("is damaged: its part {} is not where the list says", one.name));
        made.parts.push_back(std::move(one));
        at += whole;
    }
    return made;
}

struct frees {
    z_stream& of;
    ~frees() { deflateEnd(&of); }
};

std::string packed(std::string_view text) {
    z_stream stream{};
    constexpr int window_without_header = -15, memory = 8;
    if (deflateInit2(&stream, Z_DEFAULT_COMPRESSION, Z_DEFLATED, window_without_header, memory, Z_DEFAULT_STRATEGY) !=
        Z_OK)
        throw std::bad_alloc{};
    const frees later{stream};
    std::string made(deflateBound(&stream, text.size()), '\0');
    stream.next_in = reinterpret_cast<Bytef*>(const_cast<char*>(text.data())); // zlib does not write there
    stream.avail_in = static_cast<uInt>(text.size());
    stream.next_out = reinterpret_cast<Bytef*>(made.data());
    stream.avail_out = static_cast<uInt>(made.size());
    if (deflate(&stream, Z_FINISH) != Z_STREAM_END) throw std::bad_alloc{};
    made.resize(stream.total_out);
    return made;
}

/// A part's text and its record in the list, both anew; what the list told of its day and its rights stays.
std::string written(part& of, std::string_view text) {
    const auto body = packed(text);
    const auto flags = number_at(of.listed, 8, 2) & name_is_utf8;
    const auto comment = of.listed.substr(of.listed.size() - number_at(of.listed, 32, 2));
    auto& listed = of.listed;
    listed.resize(listed_size);
    put(listed, 6, version_needed, 2);
    put(listed, 8, flags, 2);
    put(listed, 10, deflated, 2);
    put(listed, 16, crc32_z(0, reinterpret_cast<const Bytef*>(text.data()), text.size()), 4);
    put(listed, 20, body.size(), 4);
    put(listed, 24, text.size(), 4);
    put(listed, 30, 0, 2);
    std::string local(local_size, '\0');
    local.replace(0, 4, local_begins);
    local.replace(4, 22, listed, 6, 22); // version to size: alike in both records
    put(local, 26, of.name.size(), 2);
    listed += of.name + comment;
    return local + of.name + body;
}

} // namespace

std::string with_parts(std::string_view zip, const std::map<std::string, std::string>& written_anew) {
    auto all = read(zip);
    std::map<std::string, const std::string*> anew;
    for (const auto& [name, text] : written_anew)
        anew.emplace(lower(name), &text);
    std::vector<part*> by_place;
    for (auto& each : all.parts)
        by_place.push_back(&each);
    std::sort(by_place.begin(), by_place.end(), [](const part* a, const part* b) { return a->at < b->at; });
    std::string made{zip.substr(0, by_place.empty() ? all.list : by_place.front()->at)};
    for (std::size_t i = 0; i < by_place.size(); ++i) {
        auto& each = *by_place[i];
        each.to = i + 1 < by_place.size() ? by_place[i + 1]->at : all.list;
        if (each.to == each.at) refuse("is damaged: two of its parts are in one place");
        each.moved_to = made.size();
        const auto found = anew.find(lower(each.name));
        if (found == anew.end()) {
            made += zip.substr(each.at, each.to - each.at);
            continue;
        }
        made += written(each, *found->second);
        anew.erase(found);
    }
    if (!anew.empty()) refuse(fmt::format("is damaged: its part {} is missing", anew.begin()->first));
    const auto list = made.size();
    for (auto& each : all.parts) {
        put(each.listed, 42, each.moved_to, 4);
        made += each.listed;
    }
    const auto end = made.size();
    made += zip.substr(all.end);
    put(made, end + 12, end - list, 4);
    put(made, end + 16, list, 4);
    return made;
}

} // namespace tarewell::intake
