#pragma once
// Only for the sources of this room that are PostgreSQL's side of the seam.
#include "ledger/inside.hpp"
#include "ledger/postgresql_connection.hpp"

namespace tarewell::ledger {

/// The ledger in a database of PostgreSQL, in its schema "tarewell".
struct postgresql_engine final : engine {
    std::string url;
    postgresql_connection connection;

    explicit postgresql_engine(const std::string& address) : url{address}, connection{address} {}

    std::unique_ptr<query> prepare(const std::string& sql) override;
    std::unique_ptr<query> stream(const std::string& sql) override;
    void begin_write() override;
    void commit(entry_no last, const digest& hash) override;
    void take_back() noexcept override;
    void begin_read() override;
    void end_read() noexcept override;
    std::unique_ptr<entry_inserts> inserts() override;
    void expect_many() override {}
    void erase_contacts(const std::vector<entry_no>& entries) override;
    void check_tables(std::vector<unsound>& found) override;
    void rethrow() const override;

    /// Begins a write that makes an empty ledger; nobody sees it before it is committed. Throws input_error where there
    /// is one already.
    static std::unique_ptr<postgresql_engine> begin_new(const std::string& url);
    static std::unique_ptr<engine> create(const std::string& url);
    static std::unique_ptr<engine> open(const std::string& url);
    /// Makes the groups tarewell_entry and tarewell_reader and gives them their rights.
    void make_roles();

  private:
    void begin(const char* how);
    void bring_schema_up();
    int schema_version();
    /// After a commit whose answer was lost: whether the journal holds its last entry.
    bool was_committed(entry_no last, const digest& hash);

    int depth_ = 0; ///< of what is under way: a write, or reads of one state one inside the other
};

inline constexpr const char* insufficient_privilege = "42501"; ///< SQLSTATE

/// Turns the server's failure into one of this room's, with what to do about it.
[[noreturn]] void rethrow(const postgresql_failure& failure, const std::string& url);

/// Rows of "COPY": PostgreSQL's text form.
class postgresql_copies final : public entry_inserts {
  public:
    explicit postgresql_copies(postgresql_connection& into) : into_{into} {}
    void write(const entry_batch& of) override;
    /// Has the server learn what many rows are like: until it knows, questions that join tables can take minutes. It
    /// does so by itself a minute later, and at once for the tables' owner alone.
    void finish() override;

  private:
    void copy(std::string_view table, const std::vector<const entry_batch::entry*>& rows,
              void (*add)(std::string& to, const entry_batch::entry& of));

    postgresql_connection& into_;
    std::size_t written_ = 0;
    std::vector<const entry_batch::entry*> rows_;
    std::string text_;
};

} // namespace tarewell::ledger
