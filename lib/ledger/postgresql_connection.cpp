#include "ledger/postgresql_connection.hpp"

#include "records/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <new>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

// The oldest that its makers still mended when this was written, and the first whose triggers and COPY are as used
// here.
constexpr int oldest_server = 130000;

// lock_timeout: the waiting time of inside.hpp. What is written must be on the server's disk when it says so, whatever
// the database's own setting. A ledger's questions are small or read to their end, which compiling them does not help.
constexpr const char* settings_sql = R"sql(
SET search_path = pg_catalog, tarewell, pg_temp;
SET lock_timeout = '10s';
SET client_min_messages = warning;
SET cursor_tuple_fraction = 1;
SET work_mem = '64MB';
SET jit = off;
SELECT set_config('synchronous_commit', 'on', false) WHERE current_setting('synchronous_commit') IN ('off', 'local');
)sql";

constexpr const char* right_address = "write it as postgresql://USER@HOST:PORT/DATABASE, without a password";

/// Never shows the address, nor what libpq says of it: a password may be in there.
void refuse_password(const std::string& url) {
    char* wrong = nullptr;
    auto* const options = libpq().read_address(url.c_str(), &wrong);
    if (options == nullptr)
        throw input_error(fmt::format("the address of the ledger's database cannot be read; {}", right_address));
    bool has_secret = false;
    for (const auto* each = options; each->keyword != nullptr; ++each)
        has_secret = has_secret || (std::string_view{each->dispchar} == "*" && each->val != nullptr);
    libpq().free_address(options);
    if (has_secret)
        throw input_error(
            "the address of the ledger's database holds a password, which others on this computer could read and "
            "shells keep; change that password, and put the new one into ~/.pgpass (or the file that PGPASSFILE "
            "names), "
            "into a service file, or into PGPASSWORD in the environment");
}

std::string trimmed(const char* text) {
    std::string made{text == nullptr ? "" : text};
    while (made.ends_with('\n') || made.ends_with(' '))
        made.pop_back();
    for (auto& each : made)
        if (each == '\n' || each == '\t') each = ' ';
    return made;
}

} // namespace

std::string_view postgresql_rows::text(int row, int column) const {
    if (libpq().is_null(of_.get(), row, column) != 0) return {};
    return {libpq().value(of_.get(), row, column), static_cast<std::size_t>(libpq().length(of_.get(), row, column))};
}

std::optional<std::int64_t> postgresql_rows::number(int row, int column) const {
    const auto digits = text(row, column);
    std::int64_t value = 0;
    const auto read = std::from_chars(digits.data(), digits.data() + digits.size(), value);
    if (digits.empty() || read.ec != std::errc{}) return std::nullopt;
    return value;
}

digest postgresql_rows::hash(int row, int column) const {
    digest value{};
    const auto shown = text(row, column); // "\x0123..."
    if (shown.size() != 2 + 2 * value.size()) return value;
    for (std::size_t i = 0; i < value.size(); ++i)
        std::from_chars(shown.data() + 2 + 2 * i, shown.data() + 4 + 2 * i, value[i], 16);
    return value;
}

postgresql_connection::postgresql_connection(std::string url) : url_{std::move(url)} {
    refuse_password(url_);
    connect();
}

void postgresql_connection::connect() {
    // What stands before the address is a default that it may change.
    const char* const names[] = {"fallback_application_name",
                                 "connect_timeout",
                                 "keepalives_idle",
                                 "keepalives_interval",
                                 "keepalives_count",
                                 "tcp_user_timeout",
                                 "dbname",
                                 "client_encoding",
                                 nullptr};
    const char* const texts[] = {"tarewell", "10", "30", "10", "3", "60000", url_.c_str(), "UTF8", nullptr};
    of_.reset(libpq().connect(names, texts, 1));
    prepared_.clear();
    if (!of_) throw std::bad_alloc{};
    if (is_lost())
        throw io_error(fmt::format("the ledger's database cannot be reached: {}; nothing was changed: look whether the "
                                   "server runs and lets you in, then run the command again",
                                   trimmed(libpq().error_message(of_.get()))));
    libpq().set_notice_processor(
        of_.get(), [](void*, const char*) {}, nullptr);
    const int version = libpq().server_version(of_.get());
    if (version < oldest_server)
        throw ledger_error(fmt::format("{}: the server is PostgreSQL {}, and a ledger needs {} or newer; nothing was "
                                       "changed",
                                       url_, libpq().parameter(of_.get(), "server_version"), oldest_server / 10000));
    const char* const encoding = libpq().parameter(of_.get(), "server_encoding");
    if (encoding == nullptr || std::string_view{encoding} != "UTF8")
        throw ledger_error(fmt::format("{}: the database's encoding is {}, which cannot hold every text; make one with "
                                       "ENCODING 'UTF8'",
                                       url_, encoding == nullptr ? "not told" : encoding));
    checked(libpq().execute(of_.get(), settings_sql));
}

void postgresql_connection::connect_anew() {
    of_.reset();
    connect();
}

postgresql_rows postgresql_connection::checked(PGresult* result) {
    postgresql_rows rows{result};
    const auto outcome = result == nullptr ? PGRES_FATAL_ERROR : libpq().result_status(result);
    if (outcome == PGRES_COMMAND_OK || outcome == PGRES_TUPLES_OK || outcome == PGRES_COPY_IN) return rows;
    const auto field = [&](int which) {
        const char* text = result == nullptr ? nullptr : libpq().error_field(result, which);
        return trimmed(text);
    };
    auto what = field(PG_DIAG_MESSAGE_PRIMARY);
    if (what.empty()) what = trimmed(libpq().error_message(of_.get()));
    throw postgresql_failure{what, field(PG_DIAG_SQLSTATE), is_lost()};
}

template <class Ask> postgresql_rows postgresql_connection::asked(Ask&& ask) {
    if (in_transaction) return checked(ask());
    try {
        return checked(ask());
    } catch (const postgresql_failure& failure) {
        if (!failure.connection_lost) throw;
    }
    connect_anew();
    return checked(ask());
}

postgresql_rows postgresql_connection::run(const std::string& sql) {
    return asked([&] { return libpq().execute(of_.get(), sql.c_str()); });
}

namespace {
std::vector<const char*> pointers_to(const postgresql_connection::values& with) {
    std::vector<const char*> made;
    made.reserve(with.size());
    for (const auto& each : with)
        made.push_back(each ? each->c_str() : nullptr);
    return made;
}
} // namespace

postgresql_rows postgresql_connection::run_with(const std::string& sql, const values& with) {
    const auto texts = pointers_to(with);
    return asked([&] {
        return libpq().execute_with(of_.get(), sql.c_str(), static_cast<int>(texts.size()), nullptr, texts.data(),
                                    nullptr, nullptr, 0);
    });
}

const std::string& postgresql_connection::name_of_prepared(const std::string& sql) {
    const auto found = prepared_.find(sql);
    if (found != prepared_.end()) return found->second;
    auto name = fmt::format("q{}", prepared_.size());
    checked(libpq().prepare(of_.get(), name.c_str(), sql.c_str(), 0, nullptr));
    return prepared_.emplace(sql, std::move(name)).first->second;
}

postgresql_rows postgresql_connection::run_prepared(const std::string& sql, const values& with) {
    const auto texts = pointers_to(with);
    const auto ask = [&] {
        const auto& name = name_of_prepared(sql);
        return libpq().execute_prepared(of_.get(), name.c_str(), static_cast<int>(texts.size()), texts.data(), nullptr,
                                        nullptr, 0);
    };
    return asked(ask);
}

void postgresql_connection::copy_in(const std::string& sql, const std::string& rows) {
    checked(libpq().execute(of_.get(), sql.c_str()));
    constexpr std::size_t most = std::size_t{1} << 20U;
    bool sent = true;
    for (std::size_t at = 0; sent && at < rows.size(); at += most)
        sent =
            libpq().put_copy_data(of_.get(), rows.data() + at, static_cast<int>(std::min(most, rows.size() - at))) == 1;
    sent = libpq().put_copy_end(of_.get(), nullptr) == 1 && sent;
    if (!sent) throw postgresql_failure{trimmed(libpq().error_message(of_.get())), {}, is_lost()};
    auto* const outcome = libpq().next_result(of_.get());
    // All is read before it is looked at, so that the connection can be used on.
    while (auto* more = libpq().next_result(of_.get()))
        libpq().clear(more);
    checked(outcome);
}

bool postgresql_connection::try_run(const char* sql) noexcept {
    auto* const result = libpq().execute(of_.get(), sql);
    const auto outcome = libpq().result_status(result); // of none: PGRES_FATAL_ERROR
    libpq().clear(result);
    return outcome == PGRES_COMMAND_OK || outcome == PGRES_TUPLES_OK;
}

} // namespace tarewell::ledger
