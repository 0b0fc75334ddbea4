#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"
#include "reconcile/side_by_side.hpp"

namespace tarewell::desk {

// What is asked of a quarter or of the season.

/// All figures.
answer figures_of(const quarter_seen& shown);
/// A figure's value as JSON has it: counts and reals as numbers, weights and money as texts, null where undefined.
value value_of(const figures::value& of);
/// {"quarter","from","to","as_of","closed","figures":[{"name","value","unit","evidence"}]}; an undefined figure
/// carries its "reason".
value figures_for_machines(const figures::report& of);

/// What changed since a quarter was closed; found where anything did.
answer restatements_of(const looked_at& at, const std::string& quarter, std::optional<entry_no> as_of);

/// What a reviewer would ask about, of a quarter or of one code where they are given; found where there is any.
/// Throws records::input_error for a code that is none.
answer flags_of(const season_view& seen, const std::string& quarter, const std::string& code);
/// The codes with their meanings.
answer flag_codes();

/// Estimate, receipt, bale and scale side by side, by a word that reconcile::read_grouping knows.
answer reconciled(const season_view& seen, const std::string& by, const std::string& quarter);

} // namespace tarewell::desk
