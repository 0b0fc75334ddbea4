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

} // namespace tarewell::figures
