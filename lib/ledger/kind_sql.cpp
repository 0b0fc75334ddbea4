#include "ledger/kind_sql.hpp"

namespace tarewell::ledger {

const kind_sql& sql_of(kind which) {
    const auto place = static_cast<std::size_t>(which);
    const auto film = film_statements();
    return place < film.size() ? film[place] : award_statements()[place - film.size()];
}

} // namespace tarewell::ledger
