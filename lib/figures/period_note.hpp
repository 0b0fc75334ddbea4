#pragma once
#include "figures/figure.hpp"

#include <string>

namespace tarewell::figures {

/// What the whole award's days say that the award's own do not: rows dated before it widen them. Empty otherwise.
std::string period_note(const records::season& season, const basis& on);

} // namespace tarewell::figures
