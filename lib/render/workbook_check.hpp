#pragma once
#include <cstdint>
#include <string>
#include <vector>

namespace tarewell::render {

/// What was written to a sheet, to be found again in the file.
struct expected_sheet {
    std::string name;
    std::uint64_t rows = 0;
    std::uint64_t cells = 0;
    std::uint32_t last_row = 0;
    std::size_t tables = 0, charts = 0;
};

/// Reads a finished workbook back: every part's checksum and end, every sheet's rows and cells, the shared texts, and
/// as many tables and charts as were written. libxlsxwriter
/// can report success on a full disk, so its word is not taken. Throws records::io_error.
void check_workbook(const std::string& path, const std::vector<expected_sheet>& expected);

} // namespace tarewell::render
