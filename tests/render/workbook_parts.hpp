#pragma once
#include "figures/table.hpp"
#include "reckoned_season.hpp"
#include "render/quarter_workbook.hpp"

#include <minizip/unzip.h>
#include <minizip/zip.h>

#include <array>
#include <map>

namespace tarewell::tests {

/// A workbook is a zip file of XML parts: here by name.
using workbook_parts = std::map<std::string, std::string>;

inline workbook_parts parts_of(const std::string& path) {
    workbook_parts parts;
    auto* zip = unzOpen64(path.c_str());
    if (zip == nullptr) throw std::runtime_error("no zip file: " + path);
    for (int found = unzGoToFirstFile(zip); found == UNZ_OK; found = unzGoToNextFile(zip)) {
        std::array<char, 256> name{};
        unzGetCurrentFileInfo64(zip, nullptr, name.data(), name.size(), nullptr, 0, nullptr, 0);
        unzOpenCurrentFile(zip);
        auto& text = parts[name.data()];
        std::array<char, 4096> block{};
        for (int read = 0; (read = unzReadCurrentFile(zip, block.data(), block.size())) > 0;)
            text.append(block.data(), static_cast<std::size_t>(read));
        unzCloseCurrentFile(zip);
    }
    unzClose(zip);
    return parts;
}

inline void zip_parts(const std::string& path, const workbook_parts& parts) {
    auto* zip = zipOpen64(path.c_str(), APPEND_STATUS_CREATE);
    for (const auto& [name, text] : parts) {
        zipOpenNewFileInZip(zip, name.c_str(), nullptr, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED,
                            Z_DEFAULT_COMPRESSION);
        zipWriteInFileInZip(zip, text.data(), static_cast<unsigned>(text.size()));
        zipCloseFileInZip(zip);
    }
    zipClose(zip, nullptr);
}

/// Writes the quarter's workbook as the command does.
inline void write_workbook(const reckoned_season& season, quantity::quarter quarter, const std::string& path,
                           bool with_names = false, const std::string& at = "2026-07-10T08:00:00Z") {
    const auto report = season.figures(quarter);
    const auto tables = figures::evidence_tables(season.season(), season.reckoned(), report.basis, with_names);
    render::write_quarter_workbook(path, report, tables, season.season(), {std::string(64, 'a'), at});
}

inline std::size_t files_in(const temporary_folder& folder) {
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& each : std::filesystem::directory_iterator{folder.path()})
        ++count;
    return count;
}

} // namespace tarewell::tests
