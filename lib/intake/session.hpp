#pragma once
#include "intake/intake.hpp"
#include "intake/rules.hpp"
#include "intake/standing.hpp"
#include "intake/table_file.hpp"

#include <array>
#include <memory>

namespace tarewell::intake {

/// What a ledger knows of every key, and the season to check a file's rows against. One transaction's worth.
class session {
  public:
    session(ledger::ledger_file& file, const ledger::surroundings& around, bool writes);
    ~session();

    /// Takes in a CSV file, or of a workbook the sheet named or, without a name, the one of the kind.
    file_summary take(records::kind which, table_file& file, const std::string& sheet,
                      std::vector<records::finding>& findings, const intake_options& options);
    /// The same of rows that are read already, under an act that was begun.
    void take_rows(records::kind which, row_reader& rows, file_summary& summary,
                   std::vector<records::finding>& findings, const intake_options& options);
    void begin(ledger::act what);
    void commit() { writer_->commit(); }
    [[nodiscard]] const records::season& season() const { return season_; }

  private:
    struct key_maps;
    struct file_reading;

    void see(const ledger::stored_row& stored);
    void see_voids();
    standing stands(const records::row& values, const std::string& key, const records::complaint& complain,
                    std::string& note);
    records::entry_no append(records::row& values, std::string key, std::size_t line);
    bool read_rows(file_reading& reading, row_reader& rows, const intake_options& options);
    bool ready_for(file_reading& reading);
    void finish(file_reading& reading);
    void take_row(file_reading& reading, const std::vector<std::string_view>& fields, std::size_t line);

    ledger::ledger_file& file_;
    std::unique_ptr<ledger::writer> writer_;
    records::entry_no head_ = 0;
    std::unique_ptr<key_maps> keys_;
    records::season season_;
    rules rules_;
    records::entry_no next_entry_ = 1;
};

} // namespace tarewell::intake
