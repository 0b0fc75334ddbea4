#pragma once
#include "desk/season_view.hpp"
#include "desk/value.hpp"
#include "records/kinds.hpp"

namespace tarewell::office {

/// The name of the list of ids that a column chooses from.
std::string list_name(const records::column& of);

/// A list for each kind of record that a kind's columns name: {"list","choices":[{"id","name","unit"}]}, the unit of a
/// scale, the ones that are likely first: bundles not received, bales not weighed, then the latest. At most 300 a list.
desk::value choices_for(const desk::season_view& seen, const records::kind_info& kind);

} // namespace tarewell::office
