// What the award's terms, settings and indirect percent make of amounts.
#include "figures/expression_parts.hpp"

#include "grant/account.hpp"
#include "grant/measures.hpp"

#include <fmt/format.h>

namespace tarewell::figures {
namespace {

class goal : public expression_node {
  public:
    number value(source& from) const override { return {from.goal_tons(), {}}; }
    void rows(const ground& on, int, const see_row& see) const override { see_award_and_amendments(on, see); }
    std::optional<figures::formula> formula(const ground&) const override { return figures::formula{"goal_tons", {}}; }
    std::string words(const ground&, const headings&) const override { return "the goal"; }
    figures::across across_quarters() const override { return across::at_end; }
};

class short_tons : public made_of {
  public:
    using made_of::made_of;

    number value(source& from) const override {
        auto weight = from_->value(from);
        if (weight.is) weight.is = *weight.is * quantity::short_tons_exact(quantity::weight{1000}, from.on.terms.unit);
        return weight;
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        auto made = from_->formula(on);
        if (!made) return made;
        made->text = (made->is_summed ? rounded(*made, 3) : inner(*made)) + "/unit_per_ton";
        made->has_parts = made->is_summed = false;
        return made;
    }
    std::string words(const ground& on, const headings& of) const override {
        return from_->words(on, of) + ", in tons of 2,000 lb";
    }
};

class priced : public made_of {
  public:
    priced(expression amount, std::string_view setting, std::string_view reason)
        : made_of{std::move(amount)}, setting_{setting}, reason_{reason} {}

    number value(source& from) const override {
        if (!is_given(from.on)) return {{}, std::string{reason_}};
        auto amount = from_->value(from);
        if (amount.is) amount.is = in_dollars(in_cents(*amount.is * price(from.on)));
        return amount;
    }
    void rows(const ground& on, int sign, const see_row& see) const override {
        if (is_given(on)) from_->rows(on, sign, see);
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        auto made = from_->formula(on);
        if (made)
            made = figures::formula{fmt::format("ROUND({}*{},2)", inner(*made), setting_),
                                    either(fmt::format("{}=0", setting_), made->undefined_where)};
        return made;
    }
    std::string words(const ground& on, const headings& of) const override {
        return fmt::format("{}, times {}", from_->words(on, of), setting_);
    }
    bool multiplies() const override { return true; }
    /// Each quarter's is rounded to the cent, at its own last day's price.
    figures::across across_quarters() const override { return across::anew; }

  private:
    std::string_view setting_, reason_;
    [[nodiscard]] fraction price(const ground& on) const {
        return quantity::fraction_of(on.season.number_on(setting_, on.days.to));
    }
    [[nodiscard]] bool is_given(const ground& on) const { return price(on).numerator != 0; }
};

class match_part : public made_of {
  public:
    match_part(expression on_grant, expression otherwise)
        : made_of{std::move(on_grant)}, otherwise_{std::move(otherwise)} {}

    number value(source& from) const override {
        if (stands_aside(from.on)) return otherwise_->value(from);
        const auto on_grant = from_->value(from);
        return {in_dollars(grant::match_required(from.on.terms, in_cents(*on_grant.is))), {}};
    }
    void rows(const ground& on, int sign, const see_row& see) const override {
        if (stands_aside(on)) return otherwise_->rows(on, sign, see);
        from_->rows(on, 1, [&](const evidence_row& row) { see({row.which, row.entry, std::nullopt}); });
        see_award_and_amendments(on, see);
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        if (stands_aside(on)) return otherwise_->formula(on);
        if (!grant::requires_match(on.terms)) return figures::formula{"0", {}};
        const bool of_total = on.terms.base == records::match_base::total;
        return figures::formula{fmt::format("ROUND({}*match_percent/{},2)", inner(*from_->formula(on)),
                                            of_total ? "(100-match_percent)" : "100"),
                                {}};
    }
    std::string words(const ground& on, const headings& of) const override {
        if (stands_aside(on)) return otherwise_->words(on, of);
        return "the match percent of " + from_->words(on, of);
    }
    figures::across across_quarters() const override { return across::at_end; }
    bool multiplies() const override { return false; } // what its rows decide adds nothing; what stands aside does

  private:
    expression otherwise_;
    [[nodiscard]] bool stands_aside(const ground& on) const {
        return otherwise_ != nullptr && !grant::requires_match(on.terms);
    }
};

class indirect_costs : public expression_node {
  public:
    explicit indirect_costs(when which) : when_{which} {}

    number value(source& from) const override {
        const auto to_date = from.indirect_through(from.on.days.to);
        return {in_dollars(in_quarter() ? to_date - from.indirect_through(from.on.day_before()) : to_date), {}};
    }
    void rows(const ground& on, int, const see_row& see) const override {
        grant::see_indirect_rows(on.season, on.days.to, see);
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        // Each amended percent has its own part of the base, which no short formula says.
        if (grant::percent_was_amended(on.season, on.days.to)) return std::nullopt;
        const auto through = [&](const char* day, const char* over) {
            if (!on.terms.indirect_percent) return std::string{"0"};
            return fmt::format("ROUND(MAX(0,{}-{})*indirect_percent/100,2)",
                               summed_through(grant::measures::indirect_base, day), over);
        };
        if (!in_quarter()) return figures::formula{through("quarter_to", "subawards_over_to_date"), {}};
        return figures::formula{
            fmt::format("ROUND(indirect_to_date-{},2)", through("(quarter_from-1)", "subawards_over_before")), {}};
    }
    std::string words(const ground& on, const headings& of) const override {
        return "the indirect percent of " + sum(grant::measures::indirect_base, when::to_date)->words(on, of) +
               ", less subaward amounts over the MTDC limit" +
               (in_quarter() ? ", less the same by the day before the quarter" : "");
    }

    figures::across across_quarters() const override { return in_quarter() ? across::sums : across::at_end; }

  private:
    when when_;
    [[nodiscard]] bool in_quarter() const { return when_ == when::in_quarter; }
};

} // namespace

expression tons(const expression& of) { return std::make_shared<const short_tons>(of); }
expression goal_tons() { return std::make_shared<const goal>(); }
expression priced_at(const expression& amount, std::string_view setting, std::string_view reason) {
    return std::make_shared<const priced>(amount, setting, reason);
}
expression indirect(when which) { return std::make_shared<const indirect_costs>(which); }
expression match_for(const expression& on_grant, const expression& otherwise) {
    return std::make_shared<const match_part>(on_grant, otherwise);
}

} // namespace tarewell::figures
