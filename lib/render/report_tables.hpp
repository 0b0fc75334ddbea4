#pragma once
#include "figures/table.hpp"
#include "render/page.hpp"

#include <functional>
#include <memory>
#include <string_view>
#include <vector>

namespace tarewell::render {

using shared_table = std::shared_ptr<const figures::table>;

/// The tables of a report. A layout and a page call a table by form_word() of its name.
struct table_shelf {
    std::shared_ptr<const std::vector<figures::table>> evidence;
    std::vector<shared_table> all; ///< the evidence, and the lists months, causes and money
    /// Makes the audit's tables. The fit costs time, so they are made when one is first called.
    std::function<std::vector<figures::table>()> make_audit = {};
    mutable std::vector<shared_table> audit = {};

    /// By its word; null when there is none.
    [[nodiscard]] shared_table called(std::string_view word) const;
};

/// Every table that a report may show, with exact values.
table_shelf report_tables(const page_input& input);

/// The same without a row, to hold names against: growers' names and adjustments among them.
const table_shelf& known_tables();

} // namespace tarewell::render
