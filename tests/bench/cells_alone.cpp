// cells_alone LIKE.xlsx OUT.xlsx: writes as many cells as a workbook has, text and numbers in the same proportion, with
// libxlsxwriter alone: the baseline of the workbook's benchmark.
#include <minizip/unzip.h>
#include <xlsxwriter.h>

#include <array>
#include <cstdio>
#include <string>
#include <string_view>
#include <vector>

namespace {

struct counted {
    unsigned long rows = 0, numbers = 0, texts = 0;
};

std::string part(unzFile file) {
    std::string text;
    std::array<char, 1U << 16U> block{};
    unzOpenCurrentFile(file);
    for (int read = 0; (read = unzReadCurrentFile(file, block.data(), block.size())) > 0;)
        text.append(block.data(), static_cast<std::size_t>(read));
    unzCloseCurrentFile(file);
    return text;
}

counted count(const std::string& sheet) {
    counted found;
    for (std::size_t at = 0; (at = sheet.find('<', at)) != std::string::npos; ++at) {
        const std::string_view rest{sheet.data() + at, std::min<std::size_t>(sheet.size() - at, 80)};
        if (rest.starts_with("<row ")) ++found.rows;
        if (!rest.starts_with("<c ")) continue;
        if (rest.substr(0, rest.find('>')).find("t=\"") == std::string_view::npos)
            ++found.numbers;
        else
            ++found.texts;
    }
    return found;
}

void write_like(lxw_worksheet* sheet, const counted& of) {
    if (of.rows == 0) return;
    const auto columns = std::max<unsigned long>(1, (of.numbers + of.texts) / of.rows);
    const auto texts = of.texts / of.rows;
    for (unsigned long row = 0; row < of.rows; ++row)
        for (unsigned long column = 0; column < columns; ++column) {
            const auto r = static_cast<lxw_row_t>(row);
            const auto c = static_cast<lxw_col_t>(column);
            if (column < texts)
                worksheet_write_string(sheet, r, c, ("R" + std::to_string(row)).c_str(), nullptr);
            else
                worksheet_write_number(sheet, r, c, static_cast<double>(row) * 1.001, nullptr);
        }
}

} // namespace

int main(int arguments, char** values) {
    if (arguments != 3) return 2;
    unzFile file = unzOpen64(values[1]);
    if (file == nullptr) return 1;
    lxw_workbook_options options{};
    options.constant_memory = LXW_TRUE;
    lxw_workbook* book = workbook_new_opt(values[2], &options);
    for (int found = unzGoToFirstFile(file); found == UNZ_OK; found = unzGoToNextFile(file)) {
        std::array<char, 256> name{};
        unzGetCurrentFileInfo64(file, nullptr, name.data(), name.size(), nullptr, 0, nullptr, 0);
        if (std::string_view{name.data()}.starts_with("xl/worksheets/sheet"))
            write_like(workbook_add_worksheet(book, nullptr), count(part(file)));
    }
    unzClose(file);
    return workbook_close(book) == LXW_NO_ERROR ? 0 : 1;
}
