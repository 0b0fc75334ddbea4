#pragma once
#include "desk/grower_calls.hpp"

#include <string>

namespace tarewell::render {

/// What to check first, and pictures of the audit: intervals of growers against a tolerance (a share), claims against
/// the scale, control charts. Without head and frame, for a page that has its own.
std::string audit_pictures(const desk::audit_view& seen, double tolerance);

/// The same as one HTML file.
std::string audit_page(const desk::audit_view& seen, double tolerance);

} // namespace tarewell::render
