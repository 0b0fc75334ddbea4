#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

#include <functional>
#include <memory>

namespace tarewell::desk {

/// Which records of a kind are listed: all that is given must hold.
struct list_request {
    std::optional<entry_no> as_of;
    std::string site, grower; ///< ids
    std::string from, to;     ///< days, both included
    std::string words;        ///< each somewhere in the record, or in the name of its grower or site

    [[nodiscard]] bool filters() const {
        return !site.empty() || !grower.empty() || !from.empty() || !to.empty() || !words.empty();
    }
};

/// A kind's records in force, with what registrations and bundles claim to weigh; how many there are is told to people.
/// Throws records::input_error for days that can't be read, and where days are asked of a kind that has none.
answer records_of(const looked_at& at, const records::kind_info& kind, const list_request& which);

/// The same as CSV, line by line with its line end, in the columns of the kind's file alone: texts that a spreadsheet
/// would take for a formula get an apostrophe. Returns how many records there are.
std::size_t csv_of_records(const looked_at& at, const records::kind_info& kind, const list_request& which,
                           const std::function<void(const std::string&)>& line);

} // namespace tarewell::desk
