#pragma once
#include <cstdint>
#include <span>
#include <string>
#include <string_view>
#include <vector>

namespace tarewell::records {

/// Texts that stand once each and are called by number, from 1 on in the order in which they were added; 0 is the empty
/// text.
class numbered_texts {
  public:
    /// Numbers run below it.
    [[nodiscard]] std::size_t size() const { return ends_.size(); }
    [[nodiscard]] std::string_view operator[](std::uint32_t number) const {
        if (number == 0) return {};
        const auto from = ends_[number - 1];
        return {all_.data() + from, ends_[number] - from};
    }
    /// 0 where it isn't there. The first question makes a table of all texts; not for several threads at once.
    [[nodiscard]] std::uint32_t find(std::string_view text) const;
    /// Texts that are not there, one after another: all their bytes, and how many each one has. False, and nothing is
    /// added, where the lengths are not those of the bytes, or all come to more than 32 bits count.
    bool add(std::string_view bytes, std::span<const std::uint32_t> lengths);

  private:
    std::string all_;
    std::vector<std::uint32_t> ends_{0};
    mutable std::vector<std::uint32_t> table_; ///< of numbers, by hash; a power of two, at most half full
};

} // namespace tarewell::records
