#include "records/numbered_texts.hpp"

#include "quantity/large_room.hpp"

#include <bit>
#include <functional>
#include <limits>
#include <numeric>

namespace tarewell::records {

bool numbered_texts::add(std::string_view bytes, std::span<const std::uint32_t> lengths) {
    const auto sum = std::accumulate(lengths.begin(), lengths.end(), std::uint64_t{0});
    if (sum != bytes.size() || all_.size() + sum > std::numeric_limits<std::uint32_t>::max()) return false;
    all_.reserve(all_.size() + bytes.size());
    quantity::use_large_pages(all_.data(), all_.capacity());
    all_ += bytes;
    quantity::make_large_room(ends_, ends_.size() + lengths.size());
    for (const auto length : lengths)
        ends_.push_back(ends_.back() + length);
    table_.clear();
    return true;
}

std::uint32_t numbered_texts::find(std::string_view text) const {
    const std::hash<std::string_view> hash;
    if (table_.empty()) {
        table_.resize(std::bit_ceil(2 * size()));
        for (std::uint32_t number = 1; number < size(); ++number) {
            auto at = hash((*this)[number]);
            while (table_[at & (table_.size() - 1)] != 0)
                ++at;
            table_[at & (table_.size() - 1)] = number;
        }
    }
    for (auto at = hash(text);; ++at) {
        const auto number = table_[at & (table_.size() - 1)];
        if (number == 0 || (*this)[number] == text) return number;
    }
}

} // namespace tarewell::records
