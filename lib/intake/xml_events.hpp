#pragma once
#include <memory>
#include <string>
#include <string_view>

namespace tarewell::intake {

/// The attributes of an element, by name without its namespace; views are good until the call returns.
class xml_attributes {
  public:
    explicit xml_attributes(const char** pairs) : pairs_{pairs} {}
    /// Empty where it is not given.
    [[nodiscard]] std::string_view operator[](std::string_view name) const;

  private:
    const char** pairs_;
};

/// Told what an XML document holds, as it is read. Names come without their namespace.
class xml_listener {
  public:
    virtual ~xml_listener() = default;
    virtual void begins(std::string_view element, const xml_attributes& with) = 0;
    virtual void ends(std::string_view element) = 0;
    virtual void text(std::string_view some) = 0;
};

/// A reader of XML in pieces. No document type, so no entities and nothing from outside; elements at most 64 deep; and
/// no single piece of markup of more than a megabyte, which expat 2.5.0 would read in quadratic time (CVE-2023-52425).
class xml_events {
  public:
    static constexpr int most_depth = 64;
    static constexpr std::size_t longest_markup = std::size_t{1} << 20U;

    /// `part` names the document in messages.
    xml_events(xml_listener& to, std::string part);
    ~xml_events();
    xml_events(const xml_events&) = delete;
    xml_events& operator=(const xml_events&) = delete;
    /// Throws unreadable for what is no well-formed XML, and what the listener throws.
    void feed(std::string_view piece, bool last);
    /// While the listener is told: the bytes of the document, from its beginning, that tell it. Of an element that is
    /// closed where it begins, `ends` has none, past its tag.
    [[nodiscard]] std::size_t told_from() const;
    [[nodiscard]] std::size_t told_to() const;

  private:
    struct implementation;
    std::unique_ptr<implementation> inside_;
};

} // namespace tarewell::intake
