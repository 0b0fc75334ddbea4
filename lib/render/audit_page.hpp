#pragma once
#include "desk/grower_calls.hpp"

#include <string>

namespace tarewell::render {

/// Pictures of the audit as one HTML file: intervals of growers against a tolerance (a share), claims against the
/// scale, control charts.
std::string audit_page(const desk::audit_view& seen, double tolerance);

} // namespace tarewell::render
