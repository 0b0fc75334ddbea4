#pragma once
#include <string>
#include <string_view>

namespace tarewell::render {

/// A QR code (ISO/IEC 18004) that says the text, as SVG with the quiet zone of four modules around it; level M, which
/// is read with 15 % of it spoilt. It is as wide as what it stands in. Throws records::input_error for a text too long.
std::string qr_code(std::string_view text);

} // namespace tarewell::render
