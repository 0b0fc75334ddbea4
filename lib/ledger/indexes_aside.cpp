#include "ledger/indexes_aside.hpp"

#include <utility>

namespace tarewell::ledger {
namespace {

constexpr const char* indexes_sql = R"sql(
SELECT format('DROP INDEX "%w"', name), sql FROM sqlite_schema WHERE type = 'index' AND tbl_name = ?1 AND sql IS NOT NULL
    ORDER BY name
)sql";

void change_schema(sqlite_engine& inside, const std::vector<std::string>& by) {
    const permission given{inside.schema_may_change};
    for (const auto& sql : by)
        SQLite::Statement{inside.database, sql}.exec();
}

} // namespace

indexes_aside::indexes_aside(sqlite_engine& inside, kind of) : inside_{inside}, of_{of} {
    std::vector<std::string> drops;
    {
        const auto indexes = inside.prepare(indexes_sql);
        indexes->bind(1, records::info(of).file);
        while (indexes->step()) {
            drops.emplace_back(indexes->text(0));
            made_by_.emplace_back(indexes->text(1));
        }
    }
    change_schema(inside, drops);
}

void indexes_aside::put_back() { change_schema(inside_, std::exchange(made_by_, {})); }

} // namespace tarewell::ledger
