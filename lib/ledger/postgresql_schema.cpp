#include "ledger/embedded.hpp"
#include "ledger/postgresql_engine.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <set>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* has_schema_sql = "SELECT count(*) FROM pg_namespace WHERE nspname = 'tarewell'";
constexpr const char* has_ledger_sql =
    "SELECT count(*) FROM pg_class JOIN pg_namespace ON pg_namespace.oid = relnamespace "
    "WHERE nspname = 'tarewell' AND relname = 'schema_versions'";
constexpr const char* version_sql = "SELECT max(version) FROM tarewell.schema_versions";

// What the schema holds now, as CREATE would name it.
constexpr const char* defined_sql = R"sql(
SELECT CASE relkind WHEN 'r' THEN 'TABLE ' WHEN 'v' THEN 'VIEW ' WHEN 'i' THEN 'INDEX ' ELSE 'relation ' END || relname
    FROM pg_class
    WHERE relnamespace = 'tarewell'::regnamespace AND NOT EXISTS (SELECT 1 FROM pg_constraint WHERE conindid = pg_class.oid)
UNION ALL
SELECT 'FUNCTION ' || proname FROM pg_proc WHERE pronamespace = 'tarewell'::regnamespace
UNION ALL
SELECT 'TRIGGER ' || tgname FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid
    WHERE relnamespace = 'tarewell'::regnamespace AND NOT tgisinternal
)sql";
constexpr const char* idle_triggers_sql = R"sql(
SELECT CASE WHEN tgisinternal THEN 'foreign key ' ELSE 'trigger ' END || tgname || ' of ' || relname
    FROM pg_trigger JOIN pg_class ON pg_class.oid = tgrelid
    WHERE relnamespace = 'tarewell'::regnamespace AND tgenabled <> CASE WHEN tgisinternal THEN 'O' ELSE 'A' END::"char"
UNION ALL
SELECT 'constraint ' || conname || ' of ' || conrelid::regclass FROM pg_constraint
    WHERE connamespace = 'tarewell'::regnamespace AND NOT convalidated
UNION ALL
SELECT 'index ' || indexrelid::regclass FROM pg_index JOIN pg_class ON pg_class.oid = indexrelid
    WHERE relnamespace = 'tarewell'::regnamespace AND NOT indisvalid
)sql";
constexpr const char* functions_sql =
    "SELECT proname, prosrc FROM pg_proc WHERE pronamespace = 'tarewell'::regnamespace AND prosrc <> ''";

int version_in(const embedded_file& file) {
    int version = 0;
    std::from_chars(file.name.data(), file.name.data() + 4, version);
    return version;
}

int known_version() { return version_in(postgresql_schema_files().back()); }

/// Runs the files of versions past `from`, in the transaction that is under way.
void run_files_past(postgresql_connection& in, int from) {
    for (const auto& file : postgresql_schema_files())
        if (version_in(file) > from) in.run(std::string{file.text});
    in.run("SET LOCAL search_path = pg_catalog, tarewell, pg_temp");
}

/// "TABLE tickets", "TRIGGER act_only_grows": what the schema files make.
std::set<std::string> defined_by_files() {
    std::set<std::string> made;
    for (const auto& file : postgresql_schema_files()) {
        std::string_view rest = file.text;
        while (!rest.empty()) {
            auto line = rest.substr(0, rest.find('\n'));
            rest.remove_prefix(std::min(rest.size(), line.size() + 1));
            if (!line.starts_with("CREATE ")) continue;
            line.remove_prefix(7);
            if (line.starts_with("UNIQUE ")) line.remove_prefix(7);
            const auto name = line.find(' ') + 1;
            if (line.starts_with("SCHEMA ")) continue;
            made.emplace(line.substr(0, line.find_first_of(" (;", name)));
        }
    }
    return made;
}

bool stands_in_files(std::string_view text) {
    for (const auto& file : postgresql_schema_files())
        if (file.text.find(text) != std::string_view::npos) return true;
    return false;
}

template <class Body> auto guarded_database(const std::string& url, Body&& body) {
    try {
        return body();
    } catch (const postgresql_failure& failure) {
        rethrow(failure, url);
    }
}

} // namespace

int postgresql_engine::schema_version() {
    if (connection.run(has_ledger_sql).number(0, 0) == 0) return 0;
    return static_cast<int>(connection.run(version_sql).number(0, 0).value_or(0));
}

std::unique_ptr<postgresql_engine> postgresql_engine::begin_new(const std::string& url) {
    return guarded_database(url, [&] {
        auto made = std::make_unique<postgresql_engine>(url);
        made->begin("BEGIN ISOLATION LEVEL READ COMMITTED READ WRITE");
        if (made->connection.run(has_schema_sql).number(0, 0) != 0)
            throw input_error(fmt::format("{} holds a ledger already, or another schema of the name tarewell; nothing "
                                          "was changed. Name a database "
                                          "of its own for each ledger (createdb NAME)",
                                          url));
        run_files_past(made->connection, 0);
        return made;
    });
}

std::unique_ptr<engine> postgresql_engine::create(const std::string& url) {
    return guarded_database(url, [&] {
        auto made = begin_new(url);
        made->commit(0, {});
        return made;
    });
}

std::unique_ptr<engine> postgresql_engine::open(const std::string& url) {
    return guarded_database(url, [&] {
        auto made = std::make_unique<postgresql_engine>(url);
        const int version = made->schema_version();
        if (version == 0)
            throw input_error(fmt::format(
                "there is no ledger in {}; make one with: tarewell new {}, or carry one there with: tarewell "
                "ledger move FILE {}",
                url, url, url));
        if (version > known_version())
            throw ledger_error(fmt::format("{} was written by a newer Tarewell (schema {}, this program knows {}); use "
                                           "the newer program",
                                           url, version, known_version()));
        if (version < known_version()) made->bring_schema_up();
        return made;
    });
}

/// By the owner: another's role may not, and hears so.
void postgresql_engine::bring_schema_up() {
    write_transaction step{*this};
    run_files_past(connection, schema_version()); // asked again: another process may just have done it
    step.commit(0, {});
}

void postgresql_engine::make_roles() {
    guarded_database(url, [&] {
        try {
            connection.run(std::string{postgresql_roles().front().text});
        } catch (const postgresql_failure& failure) {
            if (failure.state != insufficient_privilege) throw;
            throw input_error(fmt::format("{}: your role may not do that ({}); nothing was changed. It takes the "
                                          "ledger's owner, and for the groups "
                                          "once somebody who may create roles: CREATE ROLE tarewell_entry NOLOGIN; "
                                          "CREATE ROLE tarewell_reader NOLOGIN",
                                          url, failure.what()));
        }
    });
}

void postgresql_engine::check_tables(std::vector<unsound>& found) {
    std::set<std::string> there;
    const auto defined = connection.run(defined_sql);
    for (int i = 0; i < defined.count(); ++i)
        there.emplace(defined.text(i, 0));
    for (const auto& name : defined_by_files())
        if (there.erase(name) == 0) found.push_back({0, "the schema has lost its " + name});
    for (const auto& name : there)
        found.push_back({0, "the schema has a " + name + " that is not the program's"});
    const auto idle = connection.run(idle_triggers_sql);
    for (int i = 0; i < idle.count(); ++i)
        found.push_back({0, fmt::format("the schema's {} was switched off", idle.text(i, 0))});
    const auto functions = connection.run(functions_sql);
    for (int i = 0; i < functions.count(); ++i)
        if (!stands_in_files(functions.text(i, 1)))
            found.push_back({0, fmt::format("the schema's FUNCTION {} was changed", functions.text(i, 0))});
}

} // namespace tarewell::ledger
