#pragma once
#include <cstddef>
#include <vector>

namespace tarewell::quantity {

/// Asks for large pages where memory of some megabytes begins to be used: a million rows are some 100,000 small pages,
/// each got from the system by itself. Without them all is the same but slower.
void use_large_pages(void* memory, std::size_t bytes);

/// Memory for `size` elements in all, got at once.
template <class Element> void make_large_room(std::vector<Element>& of, std::size_t size) {
    if (of.capacity() >= size) return;
    of.reserve(size);
    use_large_pages(of.data(), of.capacity() * sizeof(Element));
}

} // namespace tarewell::quantity
