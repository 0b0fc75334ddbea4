#pragma once
#include "figures/table.hpp"
#include "reckoned_season.hpp"
#include "render/forms.hpp"
#include "render/layout_check.hpp"
#include "render/workbook_writer.hpp"

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

/// The layout of `tarewell quarter workbook`.
inline const render::layout& shipped_layout() {
    static const auto layout = render::need_layout(render::form_shelf{}.choose("quarter_summary", true).form);
    return layout;
}

/// Writes the quarter's workbook as the command does, or one of another layout.
inline void write_workbook(const reckoned_season& season, const quantity::period& quarter, const std::string& path,
                           bool with_names = false, const std::string& at = "2026-07-10T08:00:00Z",
                           const render::layout& layout = shipped_layout()) {
    const auto report = season.all_figures(quarter);
    render::write_workbook(path, layout,
                           {report, season.season(), season.reckoned(), {std::string(64, 'a'), at}, {}, with_names});
}

/// A sheet's XML with the shared texts in its cells, as a reader sees it: <t>text</t>.
inline std::string with_texts(const workbook_parts& parts, const std::string& sheet) {
    std::vector<std::string> texts;
    if (const auto shared = parts.find("xl/sharedStrings.xml"); shared != parts.end())
        for (std::size_t at = 0; (at = shared->second.find("<si>", at)) != std::string::npos;) {
            const auto end = shared->second.find("</si>", at);
            texts.push_back(shared->second.substr(at + 4, end - at - 4));
            at = end;
        }
    std::string whole;
    const auto& xml = parts.at(sheet);
    for (std::size_t at = 0; at < xml.size();) {
        const auto cell = xml.find("t=\"s\"><v>", at);
        if (cell == std::string::npos) return whole + xml.substr(at);
        whole += xml.substr(at, cell - at) + "t=\"inlineStr\"><is>";
        const auto end = xml.find("</v>", cell);
        whole += texts.at(std::stoul(xml.substr(cell + 9, end - cell - 9))) + "</is>";
        at = end + 4;
    }
    return whole;
}

inline std::size_t files_in(const temporary_folder& folder) {
    std::size_t count = 0;
    for ([[maybe_unused]] const auto& each : std::filesystem::directory_iterator{folder.path()})
        ++count;
    return count;
}

} // namespace tarewell::tests
