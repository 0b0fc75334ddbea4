#pragma once
// Only for the sources of this room that are PostgreSQL's side of the seam.
#include <libpq-fe.h>

namespace tarewell::ledger {

/// libpq's functions that are used. The library is loaded when the first ledger in a database is opened: it brings
/// along libraries for TLS and directories, which would cost every start of the program some 10 ms.
struct postgresql_library {
    decltype(&PQconninfoParse) read_address;
    decltype(&PQconninfoFree) free_address;
    decltype(&PQconnectdbParams) connect;
    decltype(&PQfinish) finish;
    decltype(&PQstatus) status;
    decltype(&PQerrorMessage) error_message;
    decltype(&PQserverVersion) server_version;
    decltype(&PQparameterStatus) parameter;
    decltype(&PQsetNoticeProcessor) set_notice_processor;
    decltype(&PQexec) execute;
    decltype(&PQexecParams) execute_with;
    decltype(&PQprepare) prepare;
    decltype(&PQexecPrepared) execute_prepared;
    decltype(&PQresultStatus) result_status;
    decltype(&PQresultErrorField) error_field;
    decltype(&PQcmdStatus) command_status;
    decltype(&PQclear) clear;
    decltype(&PQntuples) rows;
    decltype(&PQgetisnull) is_null;
    decltype(&PQgetvalue) value;
    decltype(&PQgetlength) length;
    decltype(&PQputCopyData) put_copy_data;
    decltype(&PQputCopyEnd) put_copy_end;
    decltype(&PQgetResult) next_result;
};

/// Throws io_error, with what to install, where it is not there.
const postgresql_library& libpq();

} // namespace tarewell::ledger
