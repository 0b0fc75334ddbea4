// Feeds any bytes to the reader of workbooks: as a whole file, or (by the first byte) as one part of a file that is
// otherwise good. It must end in rows or in an `unreadable` with words; rows have the header's width and are valid
// text. Numbers are held against strtod and printf.
#include "intake/number_format.hpp"
#include "intake/workbook.hpp"

#include <zlib.h>

#include <cstdio>
#include <cstdlib>
#include <cstring>

using namespace tarewell;

namespace {

void need(bool holds, const char* what) {
    if (holds) return;
    std::fprintf(stderr, "the workbook's reader: %s\n", what);
    std::abort();
}

void add_number(std::string& to, unsigned long number, int bytes) {
    for (int i = 0; i < bytes; ++i, number >>= 8U)
        to += static_cast<char>(number & 0xFFU);
}

/// A zip file of unpacked parts (APPNOTE.TXT 6.3, 4.3.7, 4.3.12 and 4.3.16).
class stored_zip {
  public:
    void add(const std::string& name, std::string_view data) {
        const auto offset = bytes_.size();
        std::string about;
        add_number(about, 20, 2);
        add_number(about, 0, 2 + 2 + 4); // flags, method, time
        add_number(about, crc32(0, reinterpret_cast<const Bytef*>(data.data()), static_cast<uInt>(data.size())), 4);
        add_number(about, data.size(), 4);
        add_number(about, data.size(), 4);
        add_number(about, name.size(), 2);
        add_number(about, 0, 2);
        bytes_ += "PK\x03\x04" + about + name;
        bytes_ += data;
        list_ += std::string{"PK\x01\x02"};
        add_number(list_, 20, 2);
        list_ += about;
        add_number(list_, 0, 2 + 2 + 2 + 4);
        add_number(list_, offset, 4);
        list_ += name;
        ++count_;
    }
    [[nodiscard]] std::string bytes() const {
        std::string end = "PK\x05\x06";
        add_number(end, 0, 4);
        add_number(end, count_, 2);
        add_number(end, count_, 2);
        add_number(end, list_.size(), 4);
        add_number(end, bytes_.size(), 4);
        add_number(end, 0, 2);
        return bytes_ + list_ + end;
    }

  private:
    std::string bytes_, list_;
    unsigned long count_ = 0;
};

constexpr std::string_view good_parts[][2] = {
    {"xl/worksheets/sheet1.xml", "<worksheet><sheetData><row r=\"1\"><c r=\"A1\" "
                                 "t=\"inlineStr\"><is><t>a</t></is></c><c r=\"B1\" t=\"s\"><v>0</v></c>"
                                 "</row><row r=\"2\"><c r=\"A2\" s=\"1\"><v>46156.5</v></c><c r=\"B2\" "
                                 "s=\"0\"><v>1.5</v></c></row></sheetData></worksheet>"},
    {"xl/sharedStrings.xml", "<sst><si><t>b</t></si></sst>"},
    {"xl/styles.xml",
     "<styleSheet><numFmts><numFmt numFmtId=\"170\" formatCode=\"yyyy-mm-dd h:mm\"/></numFmts><cellXfs>"
     "<xf numFmtId=\"0\"/><xf numFmtId=\"170\"/></cellXfs></styleSheet>"},
    {"xl/workbook.xml",
     "<workbook><workbookPr date1904=\"0\"/><sheets><sheet name=\"s\" id=\"r1\"/></sheets></workbook>"},
    {"xl/_rels/workbook.xml.rels",
     "<Relationships><Relationship Id=\"r1\" Type=\"x/worksheet\" Target=\"worksheets/sheet1.xml\"/><Relationship "
     "Id=\"r2\" "
     "Type=\"x/styles\" Target=\"styles.xml\"/><Relationship Id=\"r3\" Type=\"x/sharedStrings\" "
     "Target=\"sharedStrings.xml\"/></Relationships>"},
    {"_rels/.rels",
     "<Relationships><Relationship Id=\"r\" Type=\"x/officeDocument\" Target=\"xl/workbook.xml\"/></Relationships>"},
    {"[Content_Types].xml", "<Types/>"},
};
constexpr std::size_t part_count = std::size(good_parts);

void read_all(std::string_view bytes) {
    try {
        const intake::workbook book{bytes};
        for (const auto& sheet : book.sheets()) {
            const auto rows = book.rows(sheet);
            intake::csv_record record;
            std::optional<intake::csv_fault> fault;
            std::size_t width = 0, count = 0;
            while (rows->next(record, fault) && ++count < 100'000) {
                if (fault) need(!fault->what.empty() && !fault->right.empty(), "a fault without words");
                if (count == 1) width = record.fields.size();
                need(record.fields.size() == width || (record.fields.size() == 1 && record.fields[0].empty()),
                     "a row of another width than the header");
                need(record.line >= 1 && record.line <= 1'048'576, "a row outside a sheet");
                for (const auto field : record.fields) {
                    const auto bad = intake::first_bad_byte(field); // a control character may be written as _x0001_
                    need(bad == std::string_view::npos || static_cast<unsigned char>(field[bad]) < 0x20, "no UTF-8");
                }
            }
            static_cast<void>(rows->notes());
        }
    } catch (const intake::unreadable& wrong) {
        need(*wrong.what() != '\0' && !wrong.right.empty(), "an error without words");
    }
}

/// What is shown of a number is that number, to the 15 digits that a spreadsheet shows.
void check_number(const std::string& text) {
    const auto shown = intake::shown_number(text);
    if (!shown) return;
    char expected[64], found[64];
    std::snprintf(expected, sizeof expected, "%.14e", std::strtod(text.c_str(), nullptr));
    std::snprintf(found, sizeof found, "%.14e", std::strtod(shown->c_str(), nullptr));
    if (std::strtod(text.c_str(), nullptr) == 0) return need(*shown == "0", "zero");
    need(std::strcmp(expected, found) == 0, "another number is shown");
}

} // namespace

extern "C" int LLVMFuzzerTestOneInput(const unsigned char* data, std::size_t size) {
    const std::string_view all{reinterpret_cast<const char*>(data), size};
    if (all.empty()) return 0;
    const auto chosen = data[0] % (part_count + 2);
    const auto rest = all.substr(1);
    if (chosen == part_count) {
        read_all(rest);
    } else if (chosen == part_count + 1) {
        check_number(std::string{rest.substr(0, 40)});
        const auto format = intake::read_number_format(rest);
        bool hid = false;
        static_cast<void>(intake::shown_date(rest.substr(0, 20), format, rest.size() % 2 == 0, hid));
    } else {
        stored_zip file;
        for (std::size_t i = 0; i < part_count; ++i)
            file.add(std::string{good_parts[i][0]}, i == chosen ? rest : good_parts[i][1]);
        read_all(file.bytes());
    }
    return 0;
}
