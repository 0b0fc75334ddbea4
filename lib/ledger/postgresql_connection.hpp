#pragma once
// Only for the sources of this room that are PostgreSQL's side of the seam.
#include "ledger/postgresql_library.hpp"
#include "ledger/sha256.hpp"

#include <memory>
#include <optional>
#include <stdexcept>
#include <string>
#include <unordered_map>
#include <vector>

namespace tarewell::ledger {

/// What a server said no to, or that it is gone: the engine turns it into one of this room's errors.
struct postgresql_failure : std::runtime_error {
    postgresql_failure(const std::string& what, std::string code, bool lost)
        : std::runtime_error{what}, state{std::move(code)}, connection_lost{lost} {}
    std::string state; ///< SQLSTATE (PostgreSQL 15 manual, appendix A); empty where the server did not say
    bool connection_lost;
};

/// A result's rows, as text.
class postgresql_rows {
  public:
    postgresql_rows() = default;
    explicit postgresql_rows(PGresult* of) : of_{of} {}
    [[nodiscard]] PGresult* get() const { return of_.get(); }
    /// "COMMIT": what the server says it did.
    [[nodiscard]] std::string_view did() const { return libpq().command_status(of_.get()); }
    [[nodiscard]] int count() const { return of_ ? libpq().rows(of_.get()) : 0; }
    [[nodiscard]] std::string_view text(int row, int column) const;
    [[nodiscard]] std::optional<std::int64_t> number(int row, int column) const;
    [[nodiscard]] digest hash(int row, int column) const;

  private:
    struct clearer {
        void operator()(PGresult* of) const { libpq().clear(of); }
    };
    std::unique_ptr<PGresult, clearer> of_;
};

/// A connection to the server, with every setting that a ledger counts on. While no transaction is under way a lost one
/// is made anew, once, and the question asked again.
class postgresql_connection {
  public:
    using values = std::vector<std::optional<std::string>>;

    /// Throws input_error for an address that names a password or cannot be read, io_error where no server answers,
    /// ledger_error where the server is too old for a ledger or its database no UTF-8.
    explicit postgresql_connection(std::string url);

    /// One statement or several; throws postgresql_failure.
    postgresql_rows run(const std::string& sql);
    /// By a statement that is prepared once for the connection.
    postgresql_rows run_prepared(const std::string& sql, const values& with);
    postgresql_rows run_with(const std::string& sql, const values& with);
    /// "COPY ... FROM STDIN" and its rows.
    void copy_in(const std::string& sql, const std::string& rows);
    /// The same as run, for what must not throw: false where it fails.
    bool try_run(const char* sql) noexcept;

    [[nodiscard]] bool is_lost() const { return libpq().status(of_.get()) != CONNECTION_OK; }
    /// Throws as the constructor does.
    void connect_anew();
    bool in_transaction = false; ///< kept by the engine: nothing is asked anew then

  private:
    struct closer {
        void operator()(PGconn* of) const { libpq().finish(of); }
    };
    void connect();
    postgresql_rows checked(PGresult* result);
    template <class Ask> postgresql_rows asked(Ask&& ask);
    const std::string& name_of_prepared(const std::string& sql);

    std::string url_;
    std::unique_ptr<PGconn, closer> of_;
    std::unordered_map<std::string, std::string> prepared_; ///< the statements' names, by their text
};

} // namespace tarewell::ledger
