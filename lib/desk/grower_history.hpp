#pragma once
#include "desk/answer.hpp"
#include "desk/season_view.hpp"

namespace tarewell::desk {

/// What a grower brought, award by award: registrations, bundles, what was claimed and weighed, what was rejected.
/// `also` are other ledgers' files; the same grower there is one of the same id and name, else the only one of the same
/// name, telephone number or e-mail address. Who was erased or is not there is told so, without a guess. Throws
/// records::input_error for a grower that `seen` does not have.
answer grower_history(const season_view& seen, const std::string& grower, const std::vector<std::string>& also);

} // namespace tarewell::desk
