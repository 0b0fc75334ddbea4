#pragma once
#include "support.hpp"

#include <minizip/zip.h>

#include <map>

namespace tarewell::tests {

/// A zip file of parts, packed, as bytes.
inline std::string zipped(const std::vector<std::pair<std::string, std::string>>& parts) {
    const temporary_folder folder;
    const auto path = folder.file("made.zip");
    zipFile file = zipOpen64(path.c_str(), APPEND_STATUS_CREATE);
    if (file == nullptr) throw std::runtime_error("cannot write " + path);
    for (const auto& [name, text] : parts) {
        const zip_fileinfo about{};
        bool good = zipOpenNewFileInZip64(file, name.c_str(), &about, nullptr, 0, nullptr, 0, nullptr, Z_DEFLATED,
                                          Z_DEFAULT_COMPRESSION, 0) == ZIP_OK;
        good = good && zipWriteInFileInZip(file, text.data(), static_cast<unsigned>(text.size())) == ZIP_OK;
        if (!good || zipCloseFileInZip(file) != ZIP_OK) throw std::runtime_error("cannot write " + name);
    }
    if (zipClose(file, nullptr) != ZIP_OK) throw std::runtime_error("cannot close " + path);
    return bytes_in(path);
}

/// What a workbook of one sheet is made of; change what a test is about.
struct made_workbook {
    std::string sheet_name = "tickets";
    std::string data;                    ///< rows: "<row r=\"1\">...</row>"
    std::string before_data, after_data; ///< in the sheet
    std::string strings = {};            ///< "<si>...</si>"
    std::string formats = {};            ///< "<numFmt .../>"
    std::string styles = "<xf numFmtId=\"0\"/>";
    std::string workbook_properties = {};
    std::string more_relations = {};
    std::string doctype = {};
    std::vector<std::pair<std::string, std::string>> more_parts = {};

    [[nodiscard]] std::string bytes() const {
        const std::string head = "<?xml version=\"1.0\" encoding=\"UTF-8\"?>";
        const std::string of = "http://schemas.openxmlformats.org/officeDocument/2006/relationships";
        const std::string main = " xmlns=\"http://schemas.openxmlformats.org/spreadsheetml/2006/main\"";
        const std::string package = " xmlns=\"http://schemas.openxmlformats.org/package/2006/relationships\"";
        std::vector<std::pair<std::string, std::string>> parts{
            {"[Content_Types].xml", head + "<Types/>"},
            {"_rels/.rels", head + "<Relationships" + package + "><Relationship Id=\"r1\" Type=\"" + of +
                                "/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"},
            {"xl/workbook.xml", head + "<workbook" + main + " xmlns:r=\"" + of + "\">" + workbook_properties +
                                    "<sheets><sheet name=\"" + sheet_name +
                                    "\" sheetId=\"1\" r:id=\"r1\"/></sheets></workbook>"},
            {"xl/_rels/workbook.xml.rels",
             head + "<Relationships" + package + "><Relationship Id=\"r1\" Type=\"" + of +
                 "/worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship Id=\"r2\" Type=\"" + of +
                 "/styles\" Target=\"styles.xml\"/><Relationship Id=\"r3\" Type=\"" + of +
                 "/sharedStrings\" Target=\"/xl/sharedStrings.xml\"/>" + more_relations + "</Relationships>"},
            {"xl/styles.xml", head + "<styleSheet" + main + "><numFmts>" + formats +
                                  "</numFmts><cellStyleXfs><xf numFmtId=\"9\"/></cellStyleXfs><cellXfs>" + styles +
                                  "</cellXfs></styleSheet>"},
            {"xl/sharedStrings.xml", head + "<sst" + main + ">" + strings + "</sst>"},
            {"xl/worksheets/sheet1.xml", head + doctype + "<worksheet" + main + ">" + before_data + "<sheetData>" +
                                             data + "</sheetData>" + after_data + "</worksheet>"},
        };
        parts.insert(parts.end(), more_parts.begin(), more_parts.end());
        return zipped(parts);
    }
};

/// A cell of text in its place; a row of such cells.
inline std::string text_cell(const std::string& place, const std::string& text) {
    return "<c r=\"" + place + "\" t=\"inlineStr\"><is><t>" + text + "</t></is></c>";
}
inline std::string text_row(int number, const std::vector<std::string>& texts) {
    std::string made = "<row r=\"" + std::to_string(number) + "\">";
    char letter = 'A';
    for (const auto& each : texts)
        made += text_cell(std::string(1, letter++) + std::to_string(number), each);
    return made + "</row>";
}

} // namespace tarewell::tests
