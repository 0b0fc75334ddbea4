#pragma once
#include "figures/expression.hpp"

#include <fmt/format.h>

namespace tarewell::figures {

// What the expressions of expression.cpp and of award_expressions.cpp share.

inline std::string inner(const formula& of) { return of.has_parts ? "(" + of.text + ")" : of.text; }

inline std::string rounded(const formula& of, int places) {
    return of.is_summed ? fmt::format("ROUND({},{})", of.text, places) : of.text;
}

inline std::string either(const std::string& a, const std::string& b) {
    return a.empty() || b.empty() ? a + b : fmt::format("OR({},{})", a, b);
}

inline fraction in_dollars(quantity::money cents) { return {cents.count(), 100}; }
inline quantity::money in_cents(const fraction& dollars) {
    return quantity::money{quantity::half_up(dollars.numerator * 100, dollars.denominator)};
}

/// For what rows add to and do not sum to, since it has a limit.
inline void see_award(const ground& on, const see_row& see) {
    see({records::kind::award, on.season.the_award->entry, std::nullopt});
}

inline void see_award_and_amendments(const ground& on, const see_row& see) {
    see_award(on, see);
    for (const auto& each : on.season.amendments)
        if (each.date <= on.days.to) see({records::kind::amendment, each.entry, std::nullopt});
}

/// One expression, given another way.
class made_of : public expression_node {
  public:
    explicit made_of(expression from) : from_{std::move(from)} {}
    void rows(const ground& on, int sign, const see_row& see) const override { from_->rows(on, sign, see); }
    bool is_of(const records::award& award) const override { return from_->is_of(award); }
    bool multiplies() const override { return from_->multiplies(); }
    figures::across across_quarters() const override { return from_->across_quarters(); }

  protected:
    expression from_;
};

} // namespace tarewell::figures
