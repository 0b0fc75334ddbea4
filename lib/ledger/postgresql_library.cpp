#include "ledger/postgresql_library.hpp"

#include "records/errors.hpp"

#include <dlfcn.h>

namespace tarewell::ledger {
namespace {

template <class Function> void find(void* library, const char* name, Function& into) {
    into = reinterpret_cast<Function>(dlsym(library, name)); // POSIX: dlsym gives functions as objects
    if (into == nullptr)
        throw records::io_error("the system's libpq.so.5 is not PostgreSQL's client library; install libpq5 anew");
}

postgresql_library loaded() {
    void* library = dlopen("libpq.so.5", RTLD_NOW | RTLD_LOCAL);
    if (library == nullptr)
        throw records::io_error("a ledger in a database needs PostgreSQL's client library, libpq.so.5, which is not "
                                "here; install the package libpq5 and run the command again");
    postgresql_library made{};
    find(library, "PQconninfoParse", made.read_address);
    find(library, "PQconninfoFree", made.free_address);
    find(library, "PQconnectdbParams", made.connect);
    find(library, "PQfinish", made.finish);
    find(library, "PQstatus", made.status);
    find(library, "PQerrorMessage", made.error_message);
    find(library, "PQserverVersion", made.server_version);
    find(library, "PQparameterStatus", made.parameter);
    find(library, "PQsetNoticeProcessor", made.set_notice_processor);
    find(library, "PQexec", made.execute);
    find(library, "PQexecParams", made.execute_with);
    find(library, "PQprepare", made.prepare);
    find(library, "PQexecPrepared", made.execute_prepared);
    find(library, "PQresultStatus", made.result_status);
    find(library, "PQresultErrorField", made.error_field);
    find(library, "PQcmdStatus", made.command_status);
    find(library, "PQclear", made.clear);
    find(library, "PQntuples", made.rows);
    find(library, "PQgetisnull", made.is_null);
    find(library, "PQgetvalue", made.value);
    find(library, "PQgetlength", made.length);
    find(library, "PQputCopyData", made.put_copy_data);
    find(library, "PQputCopyEnd", made.put_copy_end);
    find(library, "PQgetResult", made.next_result);
    return made;
}

} // namespace

const postgresql_library& libpq() {
    static const auto library = loaded();
    return library;
}

} // namespace tarewell::ledger
