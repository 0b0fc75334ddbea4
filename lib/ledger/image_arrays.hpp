#pragma once
// Only for the sources of this room.
#include <algorithm>
#include <cstdint>
#include <cstring>
#include <span>
#include <stdexcept>
#include <string>
#include <string_view>

namespace tarewell::ledger {

/// An image that cannot be used; what() says why.
struct unusable_image : std::runtime_error {
    using std::runtime_error::runtime_error;
};

/// Bytes read from the front; throws unusable_image past their end.
class image_bytes {
  public:
    explicit image_bytes(std::string_view all) : left_{all} {}
    std::string_view take(std::uint64_t bytes) {
        if (bytes > left_.size()) throw unusable_image("it is cut short");
        const auto front = left_.substr(0, bytes);
        left_.remove_prefix(bytes);
        return front;
    }
    template <class Whole> Whole whole() {
        Whole value{};
        std::memcpy(&value, take(sizeof value).data(), sizeof value);
        return value;
    }
    [[nodiscard]] bool empty() const { return left_.empty(); }

  private:
    std::string_view left_;
};

template <class Whole> void put_whole(std::string& to, Whole value) {
    to.append(reinterpret_cast<const char*>(&value), sizeof value);
}

/// How whole numbers stand in few bytes: all alike, each one more than the one before, or what each is above the least
/// of them in 1, 2, 4 or 8 bytes.
enum class array_form : std::uint8_t { alike, sequence, one_byte, two_bytes, four_bytes, eight_bytes };

class image_array {
  public:
    image_array() = default;
    /// Throws unusable_image where the bytes hold no array of that count.
    image_array(image_bytes& from, std::uint64_t count);

    /// The numbers from `first` on; the caller keeps within the count.
    template <class Whole> void read(std::uint64_t first, std::span<Whole> to) const {
        switch (form_) {
        case array_form::alike:
            return std::fill(to.begin(), to.end(), static_cast<Whole>(base_));
        case array_form::sequence:
            for (std::size_t i = 0; i < to.size(); ++i)
                to[i] = static_cast<Whole>(base_ + first + i);
            return;
        case array_form::one_byte:
            return widen<std::uint8_t>(first, to);
        case array_form::two_bytes:
            return widen<std::uint16_t>(first, to);
        case array_form::four_bytes:
            return widen<std::uint32_t>(first, to);
        case array_form::eight_bytes:
            return widen<std::uint64_t>(first, to);
        }
    }

  private:
    array_form form_ = array_form::alike;
    std::uint64_t base_ = 0;
    const char* at_ = nullptr;

    template <class Stored, class Whole> void widen(std::uint64_t first, std::span<Whole> to) const {
        const char* from = at_ + first * sizeof(Stored);
        for (auto& each : to) {
            Stored stored{};
            std::memcpy(&stored, from, sizeof stored);
            each = static_cast<Whole>(base_ + stored);
            from += sizeof stored;
        }
    }
};

template <class Stored, class Whole>
void put_narrow(std::string& to, std::span<const Whole> numbers, std::uint64_t base) {
    for (const auto each : numbers)
        put_whole(to, static_cast<Stored>(each - base));
}

/// Appends an array as image_array reads it.
template <class Whole> void put_array(std::string& to, std::span<const Whole> numbers) {
    const auto [least, most] = std::minmax_element(numbers.begin(), numbers.end());
    const std::uint64_t base = numbers.empty() ? 0 : *least, above = numbers.empty() ? 0 : *most - base;
    bool sequence = !numbers.empty() && numbers.front() == base && above == numbers.size() - 1;
    for (std::size_t i = 0; sequence && i < numbers.size(); ++i)
        sequence = numbers[i] == base + i;
    const auto form = above == 0            ? array_form::alike
                      : sequence            ? array_form::sequence
                      : above <= UINT8_MAX  ? array_form::one_byte
                      : above <= UINT16_MAX ? array_form::two_bytes
                      : above <= UINT32_MAX ? array_form::four_bytes
                                            : array_form::eight_bytes;
    put_whole(to, form);
    put_whole(to, base);
    if (form == array_form::one_byte) put_narrow<std::uint8_t>(to, numbers, base);
    if (form == array_form::two_bytes) put_narrow<std::uint16_t>(to, numbers, base);
    if (form == array_form::four_bytes) put_narrow<std::uint32_t>(to, numbers, base);
    if (form == array_form::eight_bytes) put_narrow<std::uint64_t>(to, numbers, base);
}

} // namespace tarewell::ledger
