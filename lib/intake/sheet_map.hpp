#pragma once
#include "intake/map_values.hpp"
#include "ledger/ledger.hpp"

namespace tarewell::intake {

/// A piece of what a map puts into a column: a text as it stands, or what stands in its place.
struct map_piece {
    enum class is { text, heading, repeat, row, record, number };
    is what = is::text;
    std::string text;                   ///< the heading's, or as it stands; for a number: its digits as "###"
    std::size_t record = 0, column = 0; ///< of another record of the same row: its place in the map
};

/// One column of a record that a row makes.
struct map_column {
    std::size_t column = 0;
    std::vector<map_piece> pieces;
    std::string words, unit;
    std::vector<std::size_t> by; ///< the columns of the record that it names, by which that one is found

    [[nodiscard]] bool reads_a_heading() const;
    /// "from Your name", or nothing where it reads no heading.
    [[nodiscard]] std::string source() const;
};

/// One record that a row makes, or several by a count.
struct map_record {
    records::kind which{};
    int number = 1;
    std::vector<map_piece> when; ///< made only where this says something, or says `when_is`
    std::vector<std::string> when_is;
    std::vector<map_piece> repeat;                  ///< so many
    std::vector<std::vector<std::size_t>> known_by; ///< columns by which one that is there already is known, in turn
    std::vector<map_column> columns;

    [[nodiscard]] const map_column* find(std::size_t column) const;
};

/// How somebody else's sheet is laid out.
struct sheet_map {
    std::string name;
    sheet_rules sheet;
    std::vector<map_record> records; ///< in the order of taking in
};

/// The names of a ledger's maps.
std::vector<std::string> names_of_maps(const ledger::ledger_file& file);

/// A map as it stands in the ledger. Throws input_error for one that is not there, and refused with every rule that
/// does not fit the others.
sheet_map map_named(const ledger::ledger_file& file, const std::string& name);

/// The same of rules that are not recorded yet.
sheet_map map_of(const std::string& name, const std::map<std::string, std::string>& rules);

} // namespace tarewell::intake
