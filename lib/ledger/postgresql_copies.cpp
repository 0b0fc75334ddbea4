#include "ledger/kind_sql.hpp"
#include "ledger/postgresql_engine.hpp"
#include "ledger/written_rows.hpp"

#include <fmt/format.h>

#include <iterator>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

/// One row after the other in COPY's text form (PostgreSQL 15 manual, COPY, "Text Format"): values apart by tabs, rows
/// by line ends, "\N" for NULL.
class copied_row {
  public:
    explicit copied_row(std::string& to) : to_{to} {}
    ~copied_row() { to_.back() = '\n'; }
    copied_row(const copied_row&) = delete;
    copied_row& operator=(const copied_row&) = delete;

    void text(std::string_view value) {
        if (value.empty()) return none();
        for (const char each : value)
            switch (each) {
            case '\\':
                to_ += "\\\\";
                break;
            case '\n':
                to_ += "\\n";
                break;
            case '\r':
                to_ += "\\r";
                break;
            case '\t':
                to_ += "\\t";
                break;
            default:
                to_ += each;
            }
        to_ += '\t';
    }
    void number(std::int64_t value) { fmt::format_to(std::back_inserter(to_), "{}\t", value); }
    void number(const std::optional<std::int64_t>& value) {
        if (value)
            number(*value);
        else
            none();
    }
    void blob(const digest& value) { fmt::format_to(std::back_inserter(to_), "\\\\x{}\t", hex(value)); }

  private:
    void none() { to_ += "\\N\t"; }
    std::string& to_;
};

constexpr std::size_t many_rows = 64;

std::string analyze_all_sql() {
    std::string sql = "ANALYZE act, journal, contact";
    for (const auto& kind : all_kinds())
        sql += fmt::format(", {}", kind.file);
    return sql;
}

} // namespace

void postgresql_copies::finish() {
    static const auto analyze_all = analyze_all_sql();
    if (written_ >= many_rows) into_.run(analyze_all);
    written_ = 0;
}

void postgresql_copies::copy(std::string_view table, const std::vector<const entry_batch::entry*>& rows,
                             void (*add)(std::string& to, const entry_batch::entry& of)) {
    text_.clear();
    for (const auto* each : rows)
        add(text_, *each);
    into_.copy_in(fmt::format("COPY {} FROM STDIN", table), text_);
}

void postgresql_copies::write(const entry_batch& of) {
    using entry = entry_batch::entry;
    written_ += of.entries().size();
    write_in_order(
        of, rows_,
        [this] {
            copy(written_journal, rows_, [](std::string& to, const entry& one) {
                copied_row row{to};
                add_journal_row(row, one);
            });
        },
        [this](kind which) {
            copy(sql_of(which).written, rows_, [](std::string& to, const entry& one) {
                copied_row row{to};
                add_row(row, one);
            });
        },
        [this] {
            copy(written_contact, rows_, [](std::string& to, const entry& one) {
                copied_row row{to};
                add_contact(row, one);
            });
        });
}

} // namespace tarewell::ledger
