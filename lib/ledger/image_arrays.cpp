#include "ledger/image_arrays.hpp"

namespace tarewell::ledger {

image_array::image_array(image_bytes& from, std::uint64_t count)
    : form_{from.whole<array_form>()}, base_{from.whole<std::uint64_t>()} {
    if (form_ > array_form::eight_bytes) throw unusable_image("it holds numbers in a form that nothing knows");
    if (form_ < array_form::one_byte) return;
    const auto width = std::uint64_t{1} << (static_cast<unsigned>(form_) - static_cast<unsigned>(array_form::one_byte));
    if (count > UINT64_MAX / width) throw unusable_image("it is cut short");
    at_ = from.take(count * width).data();
}

} // namespace tarewell::ledger
