#pragma once
#include <compare>
#include <cstdint>
#include <functional>
#include <string>
#include <string_view>

namespace tarewell::quantity {

/// A whole number of a named small unit. Two counts of different units never mix:
/// adding a weight to an amount of money, or comparing them, does not compile.
template <class Unit> class whole {
  public:
    constexpr whole() = default;
    constexpr explicit whole(std::int64_t count) : count_{count} {}
    [[nodiscard]] constexpr std::int64_t count() const { return count_; }
    constexpr whole& operator+=(whole other) {
        count_ += other.count_;
        return *this;
    }
    constexpr whole& operator-=(whole other) {
        count_ -= other.count_;
        return *this;
    }
    friend constexpr whole operator+(whole a, whole b) { return a += b; }
    friend constexpr whole operator-(whole a, whole b) { return a -= b; }
    friend constexpr whole operator-(whole a) { return whole{-a.count_}; }
    friend constexpr auto operator<=>(whole, whole) = default;

  private:
    std::int64_t count_ = 0;
};

/// The text that names one record of a kind. Case-sensitive, ordered bytewise.
/// The id of a bale is not the id of a bundle: passing one for the other does not compile.
template <class Kind> class id {
  public:
    id() = default;
    explicit id(std::string text) : text_{std::move(text)} {}
    [[nodiscard]] const std::string& text() const { return text_; }
    friend auto operator<=>(const id&, const id&) = default;

  private:
    std::string text_;
};

/// A place in one of the season's vectors, typed by what the vector holds.
template <class Kind> class place {
  public:
    constexpr place() = default;
    constexpr explicit place(std::size_t index) : index_{static_cast<std::uint32_t>(index)} {}
    [[nodiscard]] constexpr std::size_t index() const { return index_; }
    /// False for a default place, which stands for "none".
    constexpr explicit operator bool() const { return index_ != none; }
    friend constexpr auto operator<=>(place, place) = default;

  private:
    static constexpr std::uint32_t none = 0xFFFFFFFF;
    std::uint32_t index_ = none;
};

} // namespace tarewell::quantity

template <class Kind> struct std::hash<tarewell::quantity::id<Kind>> {
    std::size_t operator()(const tarewell::quantity::id<Kind>& value) const {
        return std::hash<std::string>{}(value.text());
    }
};
