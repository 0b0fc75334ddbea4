#pragma once
#include "figures/closing.hpp"
#include "figures/figure.hpp"
#include "ledger/ledger.hpp"

#include <string>
#include <variant>
#include <vector>

namespace tarewell::figures {

/// What a column of an evidence table holds; a renderer chooses its format by it.
enum class content { words, date, number, heft, dollars, ratio };

using cell = std::variant<std::monostate, std::string, quantity::day, std::int64_t, weight, money, real>;

struct table_column {
    std::string name;    ///< a word for machines: "received_on"
    std::string heading; ///< for people: "Received on"
    figures::content content = content::words;
    bool summed = false; ///< a total of it means something
};

/// Rows behind figures, for a reviewer to sum. Every renderer shows the same table.
struct table {
    std::string name;  ///< "Bundles"
    std::string about; ///< a sentence
    std::vector<table_column> columns;
    std::vector<std::vector<cell>> rows;

    [[nodiscard]] std::size_t column(std::string_view column_name) const;
    /// The exact sum of a column of counts, weights or money over some rows; empty for other columns.
    [[nodiscard]] cell total(std::size_t column, const std::vector<std::size_t>& of_rows) const;
};

/// Says a table of a period that is no quarter: "in the year" for "in the quarter".
void say_of(const quantity::period& period, table& of);

/// "bales", "in_kind": a table's name as forms and the workbook's named ranges write it.
std::string form_word(std::string_view table_name);

/// The evidence of a quarter's figures: every bundle, receipt, bale, ticket, reject, acceptance, cost, gift
/// and budget line in force, by grower, by site, and the quarter's flags. Growers are named by id; names are
/// given only when `with_names`, since contact details may be erased while a filed report may not change.
///
/// `adjusted` are the restatements of earlier quarters closed by then (closing.hpp); where there are any they get a
/// table of their own.
std::vector<table> evidence_tables(const records::season& season, const reconcile::reckoning& reckoned, const basis& on,
                                   bool with_names, const std::vector<restatement>& adjusted = {});

} // namespace tarewell::figures
