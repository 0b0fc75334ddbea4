#pragma once
#include "figures/figure.hpp"
#include "figures/filed_closing.hpp"
#include "figures/table.hpp"
#include "records/season.hpp"

#include <optional>
#include <set>
#include <string>
#include <vector>

namespace tarewell::render {

/// What stands on a report besides its figures.
struct report_marks {
    std::string head_hash; ///< hex, of the as-of entry
    std::string as_of_at;  ///< UTC time of the as-of entry's act
};

/// What a page or form is made of.
struct page_input {
    const figures::report& report;
    const records::season& season;
    const reconcile::reckoning& reckoning;
    report_marks marks;
    /// What changed in quarters closed before: a report carries it so that its to-date figures tie.
    std::vector<figures::restatement> adjusted = {};
    bool with_names = false;           ///< growers' names beside their ids
    records::site_place site = {};     ///< the site that the form is about, if it is about one
    records::grower_place grower = {}; ///< the grower, likewise
    /// The closing that the report was filed with, once the quarter is closed.
    std::optional<figures::filed_closing> filed = {};
};

} // namespace tarewell::render
