#pragma once
#include <string>

namespace tarewell::office {

/// Asks the desktop to open a link (xdg-open, without a shell in between). False where there is no desktop that can.
bool open_in_browser(const std::string& link);

} // namespace tarewell::office
