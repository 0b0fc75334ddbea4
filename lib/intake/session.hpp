#pragma once
#include "intake/checker.hpp"
#include "intake/intake.hpp"
#include "ledger/season.hpp"

#include <deque>
#include <tsl/robin_map.h>

namespace tarewell::intake {

/// A row that owns its texts.
class owned_row {
  public:
    explicit owned_row(ledger::kind which) { row_.which = which; }
    explicit owned_row(const ledger::row& values);
    owned_row(const owned_row& other) : owned_row(other.row_) {}
    owned_row& operator=(const owned_row& other);
    void set(std::size_t column, std::string_view text);
    [[nodiscard]] const ledger::row& values() const { return row_; }
    [[nodiscard]] ledger::row& values() { return row_; }

  private:
    ledger::row row_;
    std::deque<std::string> texts_;
};

/// What a ledger knows of every key, and the season to check new rows against. One transaction's worth.
class session {
  public:
    session(ledger::ledger_file& file, const ledger::surroundings& around, bool writes);

    file_summary take(ledger::kind which, const std::string& path, std::vector<ledger::finding>& findings,
                      const intake_options& options);
    /// Appends a single row. Returns its entry, or 0 when it is known.
    ledger::entry_no record(owned_row values, std::vector<ledger::finding>& findings, std::string& note);
    void begin(ledger::act what) { writer_->begin(std::move(what)); }
    void commit() { writer_->commit(); }
    [[nodiscard]] const ledger::season& season() const { return season_; }

  private:
    struct key_state {
        ledger::entry_no entry = 0; ///< in force, or the void's entry
        bool voided = false;
        bool in_this_file = false;
        std::uint32_t line = 0;
    };
    using key_map = tsl::robin_map<std::string, key_state>;
    enum class standing { fresh, known, refused };

    void see(const ledger::stored_row& stored);
    void see_voids(ledger::entry_no head);
    standing stand(const ledger::row& values, const std::string& key, const complaint& complain, std::string& note);
    bool equals_stored(const ledger::row& values, ledger::entry_no entry, bool& erased) const;
    bool equals_earlier(const ledger::row& values) const;
    ledger::entry_no append(ledger::row& values, std::string key, std::size_t line);
    bool read_header(const std::vector<std::string_view>& names, ledger::kind which, std::vector<std::size_t>& places,
                     const complaint& complain) const;
    struct file_reading;
    void take_row(file_reading& reading, const std::vector<std::string_view>& fields, std::size_t line);

    ledger::ledger_file& file_;
    std::unique_ptr<ledger::writer> writer_;
    ledger::entry_no head_ = 0;
    std::array<key_map, ledger::kind_count> keys_;
    std::vector<std::pair<ledger::entry_no, ledger::entry_no>> replacements_;
    ledger::season season_;
    checker checker_;
    ledger::entry_no next_entry_ = 1;
};

/// The whole of a file's bytes. Throws io_error.
std::string bytes_of(const std::string& path);

/// True when two texts of a column mean the same value: 228 and 228.0 are one number.
bool same_value(const ledger::column& column, std::string_view a, std::string_view b);

} // namespace tarewell::intake
