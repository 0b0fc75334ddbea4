#include "quantity/large_room.hpp"

#include <cstdint>
#include <sys/mman.h>

namespace tarewell::quantity {

void use_large_pages(void* memory, std::size_t bytes) {
    constexpr std::uintptr_t large = std::uintptr_t{2} << 20U, small = 4096;
    if (bytes < 2 * large) return;
    // From the next small page on: what stands before it is not ours.
    const auto from = (reinterpret_cast<std::uintptr_t>(memory) + small - 1) / small * small;
    const auto to = (reinterpret_cast<std::uintptr_t>(memory) + bytes) / small * small;
    ::madvise(reinterpret_cast<void*>(from), to - from, MADV_HUGEPAGE);
}

} // namespace tarewell::quantity
