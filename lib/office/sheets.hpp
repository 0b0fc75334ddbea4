#pragma once
#include "office/views.hpp"

#include "intake/map_file.hpp"

namespace tarewell::office {

/// Somebody else's sheet on its way in: the text of the map by which it is read, and what its rows become.
struct sheet_page {
    std::string map, text; ///< the map's name and rules
    std::string waiting;   ///< the file at hand; empty: only the map is changed
    std::vector<std::string> wrong = {};
};

/// The page of a sheet and its map; with what each row becomes where the map is whole.
response show_sheet(state& of, const sheet_page& sheet, int status = 200);
/// The text of a map that a file's headings and values let one think.
std::string proposed_for(const waiting_file& file);
/// The text of a map that the ledger keeps. Throws records::input_error for none.
std::string kept_map(state& of, const std::string& name);
/// The names of the maps that the ledger keeps.
std::vector<std::string> names_of_maps(state& of);
/// A refusal's lines without the folder in which the file lay meanwhile.
std::vector<std::string> lines_without(std::vector<std::string> lines, const std::string& folder);

} // namespace tarewell::office
