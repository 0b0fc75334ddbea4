#pragma once
#include <cstddef>

namespace tarewell::reconcile {

/// Goes through rows while the memory that those some rows ahead stand on is fetched already: paper comes in another
/// order than the bundles that it speaks of, and a million of them are in no cache.
template <class Rows, class Address, class Body> void for_each_ahead(const Rows& rows, Address&& address, Body&& body) {
    constexpr std::size_t ahead = 12;
    for (std::size_t i = 0; i < rows.size(); ++i) {
        if (i + ahead < rows.size()) __builtin_prefetch(address(rows[i + ahead]));
        body(rows[i], i);
    }
}

} // namespace tarewell::reconcile
