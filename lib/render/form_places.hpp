#pragma once
#include "intake/workbook.hpp"
#include "render/sheet_edit.hpp"

namespace tarewell::render {

/// A name that a workbook defines, and the cells that it stands for.
struct defined_name {
    std::string name;
    std::string refers; ///< as the workbook writes it
    std::string sheet;  ///< empty where it stands for no one place: a formula, several areas, another file
    sheet_shape::area area;
};

/// What a workbook's main part says: its names, those of one sheet among them, and where recalculation is told.
struct workbook_terms {
    std::vector<defined_name> names;
    std::size_t calculation_from = 0,
                calculation_to = 0; ///< the bytes that say when it is reckoned; nothing: where to say it
    bool calculation_told = false;  ///< says already that all is reckoned on opening
    std::string prefix;             ///< of its elements, with its colon
};
/// Throws intake::unreadable.
workbook_terms terms_of_workbook(std::string_view xml, const std::string& part);

/// The same part, which asks for everything to be reckoned when it is opened.
std::string with_calculation(std::string_view xml, const workbook_terms& of);

/// "Report!B5", "'Sheet one'!$B$5:$D$6"; none where it is no such place.
std::optional<defined_name> read_reference(std::string_view text);

/// Reads a part to its end, whose checksum must be right. Throws intake::unreadable.
void check_part(const intake::zip_parts& of, const std::string& name);

/// A whole part, unpacked. Throws intake::unreadable.
std::string text_of_part(const intake::zip_parts& of, const std::string& name);

} // namespace tarewell::render
