#pragma once
#include "intake/map_values.hpp"
#include "ledger/ledger.hpp"

#include <set>
#include <unordered_map>

namespace tarewell::intake {

/// The records that a sheet's rows may name or repeat: those in force in the ledger, and those that earlier rows make.
class map_names {
  public:
    using values = std::vector<std::string>; ///< in the order of the kind's columns

    explicit map_names(const ledger::ledger_file& file) : file_{file} {}

    /// The id of the record that a text names: by its id, by one of the columns, or by a part that no other has, which
    /// is a doubt.
    read_value id_of(records::kind which, const std::vector<std::size_t>& by, std::string_view text);
    /// The record that has the same in all of these columns; null where none has, or where one of them is empty.
    const values* known(records::kind which, const std::vector<std::size_t>& columns, const values& as);
    /// The next free id: a number between two texts, of at least so many digits, past all that ever were.
    std::string next(records::kind which, std::size_t column, const std::string& before, const std::string& after,
                     std::size_t digits);
    void add(records::kind which, const values& made);

  private:
    struct kind_records {
        std::vector<values> all;
        std::map<std::vector<std::size_t>, std::unordered_map<std::string, std::size_t>> by_columns;
        std::optional<std::set<std::string>> ever; ///< ids, for numbering
    };
    kind_records& of(records::kind which);
    std::set<std::string>& ids_ever(records::kind which);
    static std::string key_of(const std::vector<std::size_t>& columns, const values& of);

    const ledger::ledger_file& file_;
    std::map<records::kind, kind_records> kinds_;
};

} // namespace tarewell::intake
