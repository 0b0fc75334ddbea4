#include "render/qr_code.hpp"

#include "records/errors.hpp"
#include "render/svg_canvas.hpp"

#include <fmt/format.h>
#include <zint.h>

#include <memory>
#include <new>

namespace tarewell::render {
namespace {

constexpr int level_m = 2; // zint's option_1 for QR: 1 is L, 2 M, 3 Q, 4 H
constexpr int quiet_zone = 4;

bool is_dark(const zint_symbol& code, int row, int column) {
    return ((code.encoded_data[row][column / 8] >> (column % 8)) & 1) != 0;
}

} // namespace

std::string qr_code(std::string_view text) {
    const std::unique_ptr<zint_symbol, void (*)(zint_symbol*)> code{ZBarcode_Create(), &ZBarcode_Delete};
    if (!code) throw std::bad_alloc{};
    code->symbology = BARCODE_QRCODE;
    code->input_mode = UNICODE_MODE;
    code->option_1 = level_m;
    const std::string said{text};
    const auto* bytes = reinterpret_cast<const unsigned char*>(said.c_str());
    if (said.empty() || ZBarcode_Encode(code.get(), bytes, static_cast<int>(said.size())) >= ZINT_ERROR)
        throw records::input_error(fmt::format("no QR code can say '{}': {}", said, code->errtxt));
    std::string path;
    for (int row = 0; row < code->rows; ++row)
        for (int column = 0, end = 0; column < code->width; column = end + 1) {
            for (end = column; end < code->width && is_dark(*code, row, end);)
                ++end;
            if (end > column) path += fmt::format("M{} {}h{}v1h-{}z", column, row, end - column, end - column);
        }
    const auto side = code->width + 2 * quiet_zone;
    return fmt::format(R"(<svg class="qr" viewBox="-{} -{} {} {}" role="img" aria-label="QR code of {}">)"
                       R"(<path shape-rendering="crispEdges" d="{}"></path></svg>)",
                       quiet_zone, quiet_zone, side, side, escaped(said), path);
}

} // namespace tarewell::render
