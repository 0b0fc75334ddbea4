#include "ledger/database_url.hpp"
#include "ledger/postgresql_engine.hpp"
#include "ledger/sqlite_engine.hpp"

namespace tarewell::ledger {

ledger_file ledger_file::create(const std::string& path) {
    auto made = is_in_database(path) ? postgresql_engine::create(path) : sqlite_engine::create(path);
    return ledger_file{std::make_unique<implementation>(implementation{path, std::move(made)})};
}

ledger_file ledger_file::open(const std::string& path) {
    auto opened = is_in_database(path) ? postgresql_engine::open(path) : sqlite_engine::open(path);
    return ledger_file{std::make_unique<implementation>(implementation{path, std::move(opened)})};
}

} // namespace tarewell::ledger
