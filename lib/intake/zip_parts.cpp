#include "intake/zip_parts.hpp"

#include "intake/row_reader.hpp"

#include <fmt/format.h>
#include <minizip/unzip.h>

#include <algorithm>
#include <array>
#include <cstring>
#include <map>

namespace tarewell::intake {
namespace {

const char* const save_again = "open it in the spreadsheet program and save it again as .xlsx";

/// The file in memory, as minizip asks for it.
struct memory_file {
    std::string_view bytes;
    std::size_t at = 0;
};

memory_file& file_of(voidpf stream) { return *static_cast<memory_file*>(stream); }

voidpf open_it(voidpf opaque, const void* /*name*/, int /*mode*/) { return opaque; }
uLong read_it(voidpf /*opaque*/, voidpf stream, void* into, uLong size) {
    auto& file = file_of(stream);
    const auto some = std::min<std::size_t>(size, file.bytes.size() - file.at);
    std::memcpy(into, file.bytes.data() + file.at, some);
    file.at += some;
    return some;
}
ZPOS64_T tell_it(voidpf /*opaque*/, voidpf stream) { return file_of(stream).at; }
long seek_it(voidpf /*opaque*/, voidpf stream, ZPOS64_T offset, int origin) {
    auto& file = file_of(stream);
    const std::size_t from = origin == ZLIB_FILEFUNC_SEEK_SET   ? 0
                             : origin == ZLIB_FILEFUNC_SEEK_CUR ? file.at
                                                                : file.bytes.size();
    if (offset > file.bytes.size() - from) return -1;
    file.at = from + offset;
    return 0;
}
int close_it(voidpf /*opaque*/, voidpf /*stream*/) { return 0; }
int no_error(voidpf /*opaque*/, voidpf /*stream*/) { return 0; }

struct closes {
    void operator()(voidpf of) const { unzClose(of); }
};
using unzip_handle = std::unique_ptr<void, closes>;

unzip_handle opened(memory_file& file) {
    zlib_filefunc64_def functions{open_it, read_it, nullptr, tell_it, seek_it, close_it, no_error, &file};
    unzip_handle made{unzOpen2_64("workbook", &functions)};
    if (!made) throw unreadable("the file is damaged: it has no list of its parts (it may be cut short)", save_again);
    return made;
}

std::string lower(std::string_view text) {
    std::string made{text};
    for (auto& each : made)
        if (each >= 'A' && each <= 'Z') each = static_cast<char>(each - 'A' + 'a');
    return made;
}

struct part {
    unz64_file_pos place;
    std::uint64_t packed = 0, unpacked = 0;
    std::string name;
};

} // namespace

struct zip_parts::implementation {
    std::string_view bytes;
    std::map<std::string, part> parts;
};

struct zip_parts::stream::implementation {
    memory_file file;
    unzip_handle handle;
    part of;
    std::uint64_t done = 0;
};

zip_parts::zip_parts(std::string_view bytes) : inside_{std::make_unique<implementation>()} {
    inside_->bytes = bytes;
    memory_file file{bytes};
    const auto handle = opened(file);
    unz_global_info64 all{};
    unzGetGlobalInfo64(handle.get(), &all);
    if (all.number_entry > most_parts)
        throw unreadable(
            fmt::format("the file has {} parts, and a workbook has at most {}", all.number_entry, most_parts),
            save_again);
    int more = unzGoToFirstFile(handle.get());
    for (; more == UNZ_OK; more = unzGoToNextFile(handle.get())) {
        std::array<char, 512> name{};
        unz_file_info64 about{};
        part found;
        if (unzGetCurrentFileInfo64(handle.get(), &about, name.data(), name.size() - 1, nullptr, 0, nullptr, 0) !=
                UNZ_OK ||
            unzGetFilePos64(handle.get(), &found.place) != UNZ_OK)
            throw unreadable("the file is damaged: the list of its parts cannot be read", save_again);
        constexpr unsigned encrypted = 1;
        if ((about.flag & encrypted) != 0)
            throw unreadable("the file is protected by a password", "take the password off in the spreadsheet program");
        found.packed = about.compressed_size;
        found.unpacked = about.uncompressed_size;
        found.name = name.data();
        if (!inside_->parts.emplace(lower(found.name), found).second || inside_->parts.size() > most_parts)
            throw unreadable(fmt::format("the file is damaged: its part {} stands twice", found.name), save_again);
    }
    if (more != UNZ_END_OF_LIST_OF_FILE)
        throw unreadable("the file is damaged: the list of its parts cannot be read", save_again);
}

zip_parts::~zip_parts() = default;

bool zip_parts::has(std::string_view name) const { return inside_->parts.contains(lower(name)); }

std::vector<std::string> zip_parts::names() const {
    std::vector<std::string> made;
    for (const auto& [key, each] : inside_->parts)
        made.push_back(each.name);
    return made;
}

std::unique_ptr<zip_parts::stream> zip_parts::open(std::string_view name) const {
    const auto found = inside_->parts.find(lower(name));
    if (found == inside_->parts.end())
        throw unreadable(fmt::format("the file is damaged: its part {} is missing", name), save_again);
    auto made = std::make_unique<stream::implementation>();
    made->file = {inside_->bytes};
    made->handle = opened(made->file);
    made->of = found->second;
    if (unzGoToFilePos64(made->handle.get(), &made->of.place) != UNZ_OK ||
        unzOpenCurrentFile(made->handle.get()) != UNZ_OK)
        throw unreadable(fmt::format("the file is damaged: its part {} cannot be unpacked", name), save_again);
    return std::unique_ptr<stream>{new stream{std::move(made)}};
}

zip_parts::stream::stream(std::unique_ptr<implementation> inside) : inside_{std::move(inside)} {}
zip_parts::stream::~stream() = default;

std::size_t zip_parts::stream::whole() const { return inside_->of.unpacked; }

std::size_t zip_parts::stream::read(char* into, std::size_t most) {
    auto& in = *inside_;
    const int got = unzReadCurrentFile(in.handle.get(), into, static_cast<unsigned>(most));
    if (got < 0) throw unreadable(fmt::format("the file is damaged inside its part {}", in.of.name), save_again);
    in.done += static_cast<std::uint64_t>(got);
    if (in.done > most_unpacked)
        throw unreadable(fmt::format("its part {} unpacks to more than {} MB", in.of.name, most_unpacked >> 20U),
                         "split the sheet into several files");
    if (in.done > ratio_from && in.done / most_ratio > in.of.packed)
        throw unreadable(
            fmt::format("its part {} unpacks to more than {} times its size, which no sheet of a season does",
                        in.of.name, most_ratio),
            "ask who sent it; a sheet that you know can be saved as CSV UTF-8");
    if (got == 0 && unzCloseCurrentFile(in.handle.get()) != UNZ_OK)
        throw unreadable(fmt::format("the file is damaged: the checksum of its part {} is wrong", in.of.name),
                         save_again);
    return static_cast<std::size_t>(got);
}

} // namespace tarewell::intake
