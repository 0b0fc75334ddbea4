#include "names.hpp"

#include <ostream>

namespace tarewell::cli {

void tell_found(const desk::look_up& names, const context& with) {
    for (const auto& line : names.told)
        with.err << line << '\n';
}

std::string id_meant(const ledger::ledger_file& file, records::kind which, const std::string& said,
                     const context& with) {
    desk::look_up names{file};
    auto id = names.id_of(which, said);
    tell_found(names, with);
    return id;
}

} // namespace tarewell::cli
