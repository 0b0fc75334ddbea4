#pragma once
// Only for the sources of this room.
#include "ledger/sha256.hpp"
#include "records/kinds.hpp"

namespace tarewell::ledger {

/// Which texts stand together in an image: each kind's ids, whoever names them, and each other column's own.
struct image_layout {
    static constexpr int left_out = -1; ///< the season doesn't keep it, or it is a contact detail
    static constexpr int by_row = -2;   ///< an id of the kind that the row itself says
    std::array<std::array<int, records::most_columns>, records::kind_count> group_of{};
    std::size_t groups = records::kind_count; ///< the first ones are the kinds' ids, in the order of the kinds
    digest fingerprint{};                     ///< of the form of an image and of all kinds' columns
    [[nodiscard]] const std::array<int, records::most_columns>& of(records::kind which) const {
        return group_of[static_cast<std::size_t>(which)];
    }
};
const image_layout& layout_of_images();

/// The group of the texts of one cell.
std::size_t group_of(const records::row& values, std::size_t column);

} // namespace tarewell::ledger
