#pragma once
#include "figures/table.hpp"

namespace tarewell::figures {

// Short forms for the columns of evidence tables.
inline table_column words(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::words, false};
}
inline table_column date_column(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::date, false};
}
inline table_column counts(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::number, true};
}
inline table_column heft(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::heft, true};
}
inline table_column dollars(std::string name, std::string heading) {
    return {std::move(name), std::move(heading), content::dollars, true};
}

/// One after the other: where a cell of a braced list can't be made, GCC 12 destroys cells that were not made yet.
template <class... Cell> std::vector<cell> row_of(Cell&&... cells) {
    std::vector<cell> row;
    row.reserve(sizeof...(cells));
    (row.emplace_back(std::forward<Cell>(cells)), ...);
    return row;
}

} // namespace tarewell::figures
