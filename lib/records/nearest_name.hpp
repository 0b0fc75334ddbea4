#pragma once
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::records {

/// How many letters are changed, added, left out, or swapped with their neighbour between two texts (optimal string
/// alignment); more than `most` is told as most + 1.
std::size_t letters_changed(std::string_view a, std::string_view b, std::size_t most);

/// The known name nearest to one that is not, by letters changed; empty where none is known.
std::string nearest_name(std::string_view wrong, const std::vector<std::string>& known);

/// Those so near, whatever their case, that a slip of the finger explains it, nearest first; at most three.
std::vector<std::string> near_names(std::string_view wrong, const std::vector<std::string>& known);

/// "; did you mean 'show'?", or nothing where none is near.
std::string did_you_mean(std::string_view wrong, const std::vector<std::string>& known);

/// "ticket", "receipt": of every kind that people record.
std::vector<std::string> names_of_kinds();

} // namespace tarewell::records
