#include "figures/expression_parts.hpp"

#include "figures/lines.hpp"

#include <fmt/format.h>

#include <algorithm>

namespace tarewell::figures {
namespace {

/// What is added up and taken off.
class total : public expression_node {
  public:
    using part = std::pair<int, expression>;
    explicit total(std::vector<part> parts) : parts_{std::move(parts)} {}

    static std::vector<part> parts_of(const expression& each) {
        const auto* sums = dynamic_cast<const total*>(each.get());
        return sums != nullptr ? sums->parts_ : std::vector<part>{{1, each}};
    }
    number value(source& from) const override {
        number all{fraction{0, 1}, {}};
        for (const auto& [sign, each] : of(from.on.terms)) {
            auto next = each->value(from);
            if (!next.is) return next;
            all.is = sign > 0 ? *all.is + *next.is : *all.is - *next.is;
        }
        return all;
    }
    void rows(const ground& on, int sign, const see_row& see) const override {
        for (const auto& [own, each] : of(on.terms))
            each->rows(on, sign * own, see);
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        figures::formula all;
        for (const auto& [sign, each] : of(on.terms)) {
            const auto next = each->formula(on);
            if (!next) return std::nullopt;
            all.has_parts = !all.text.empty() || next->has_parts;
            all.text += (all.text.empty() ? "" : sign > 0 ? "+" : "-") + (sign > 0 ? next->text : inner(*next));
            all.undefined_where = either(all.undefined_where, next->undefined_where);
        }
        all.is_summed = !multiplies();
        return all;
    }
    std::string words(const ground& on, const headings& called) const override {
        std::string all;
        for (const auto& [sign, each] : of(on.terms))
            all += (all.empty() ? "" : sign > 0 ? ", and " : ", less ") + each->words(on, called);
        return all;
    }
    bool is_of(const records::award& award) const override { return !of(award).empty(); }
    bool multiplies() const override {
        return std::any_of(parts_.begin(), parts_.end(), [](const part& each) { return each.second->multiplies(); });
    }

    figures::across across_quarters() const override {
        auto all = parts_.front().second->across_quarters();
        for (const auto& each : parts_)
            all = figures::joined(all, each.second->across_quarters());
        return all;
    }

  private:
    std::vector<part> parts_;

    [[nodiscard]] std::vector<part> of(const records::award& award) const {
        auto there = parts_;
        std::erase_if(there, [&](const part& each) { return !each.second->is_of(award); });
        return there;
    }
};

expression joined(const expression& a, const expression& b, int sign) {
    auto parts = total::parts_of(a);
    for (const auto& [own, each] : total::parts_of(b))
        parts.emplace_back(sign * own, each);
    return std::make_shared<const total>(std::move(parts));
}

class other_figure : public expression_node {
  public:
    explicit other_figure(std::string_view name) : name_{name} {}

    number value(source& from) const override { return from.figure(name_); }
    void rows(const ground& on, int sign, const see_row& see) const override { line().rows(on, sign, see); }
    std::optional<figures::formula> formula(const ground& on) const override {
        const auto own = line().formula(on);
        return figures::formula{std::string{name_}, own ? own->undefined_where : std::string{}};
    }
    std::string words(const ground&, const headings&) const override { return std::string{name_}; }
    bool multiplies() const override { return line().multiplies(); }
    bool is_rate() const override { return line().is_rate(); }
    figures::across across_quarters() const override { return line().across_quarters(); }

  private:
    std::string_view name_;
    [[nodiscard]] const expression_node& line() const { return *line_named(name_).is; }
};

/// What two expressions give together, with rows that add nothing by themselves.
class pair_of : public expression_node {
  public:
    pair_of(expression a, expression b) : a_{std::move(a)}, b_{std::move(b)} {}

    number value(source& from) const override {
        auto a = a_->value(from), b = b_->value(from);
        if (!a.is) return a;
        return b.is ? together(*a.is, *b.is) : b;
    }
    void rows(const ground& on, int sign, const see_row& see) const override {
        a_->rows(on, sign, see);
        b_->rows(on, sign, see);
    }
    bool multiplies() const override { return true; }
    /// What is worked out of two numbers of the last day stands on that day, too.
    figures::across across_quarters() const override {
        const bool at_end = a_->across_quarters() == across::at_end && b_->across_quarters() == across::at_end;
        return at_end ? across::at_end : across::anew;
    }

  protected:
    expression a_, b_;
    [[nodiscard]] virtual number together(const fraction& a, const fraction& b) const = 0;
    [[nodiscard]] std::optional<figures::formula> written(const ground& on, const char* sign,
                                                          const std::string& undefined_where_b = {}) const {
        const auto a = a_->formula(on), b = b_->formula(on);
        if (!a || !b) return std::nullopt;
        const auto own = undefined_where_b.empty() ? std::string{} : inner(*b) + undefined_where_b;
        return figures::formula{inner(*a) + sign + inner(*b),
                                either(own, either(a->undefined_where, b->undefined_where))};
    }
};

class product : public pair_of {
  public:
    using pair_of::pair_of;
    std::optional<figures::formula> formula(const ground& on) const override { return written(on, "*"); }
    std::string words(const ground& on, const headings& of) const override {
        return a_->words(on, of) + ", times " + b_->words(on, of);
    }

  private:
    number together(const fraction& a, const fraction& b) const override { return {a * b, {}}; }
};

class quotient : public pair_of {
  public:
    quotient(expression top, expression bottom, std::string_view reason, bool below_0)
        : pair_of{std::move(top), std::move(bottom)}, reason_{reason}, below_0_{below_0} {}

    bool is_rate() const override { return true; }
    std::optional<figures::formula> formula(const ground& on) const override {
        return written(on, "/", below_0_ ? "<=0" : "=0");
    }
    std::string words(const ground& on, const headings& of) const override {
        return a_->words(on, of) + ", over " + b_->words(on, of);
    }

  private:
    std::string_view reason_;
    bool below_0_;
    number together(const fraction& top, const fraction& bottom) const override {
        if (bottom.numerator == 0 || (below_0_ && bottom.numerator < 0)) return {{}, std::string{reason_}};
        return {top / bottom, {}};
    }
};

class positive_part : public made_of {
  public:
    using made_of::made_of;

    void rows(const ground& on, int sign, const see_row& see) const override {
        made_of::rows(on, sign, see);
        see_award(on, see);
    }
    number value(source& from) const override {
        auto number = from_->value(from);
        if (number.is && number.is->numerator < 0) number.is = fraction{0, 1};
        return number;
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        auto made = from_->formula(on);
        if (made) made->text = "MAX(0," + made->text + ")", made->has_parts = false;
        return made;
    }
    std::string words(const ground& on, const headings& of) const override {
        return from_->words(on, of) + ", and nothing where that is below 0";
    }
    figures::across across_quarters() const override {
        return from_->across_quarters() == across::at_end ? across::at_end : across::anew;
    }
};

class limited : public made_of {
  public:
    limited(expression limit, expression of) : made_of{std::move(of)}, limit_{std::move(limit)} {}

    number value(source& from) const override {
        auto limit = limit_->value(from), number = from_->value(from);
        if (!limit.is || !number.is) return limit.is ? number : limit;
        return (*limit.is - *number.is).numerator < 0 ? limit : number;
    }
    void rows(const ground& on, int sign, const see_row& see) const override {
        made_of::rows(on, sign, see);
        limit_->rows(on, sign, [&](const evidence_row& row) { see({row.which, row.entry, std::nullopt}); });
        see_award(on, see);
    }
    std::optional<figures::formula> formula(const ground& on) const override {
        const auto limit = limit_->formula(on), of = from_->formula(on);
        if (!limit || !of) return std::nullopt;
        return figures::formula{fmt::format("MIN({},{})", limit->text, of->text),
                                either(limit->undefined_where, of->undefined_where), false, true};
    }
    std::string words(const ground& on, const headings& of) const override {
        return from_->words(on, of) + ", at most " + limit_->words(on, of);
    }
    figures::across across_quarters() const override {
        const bool at_end = from_->across_quarters() == across::at_end && limit_->across_quarters() == across::at_end;
        return at_end ? across::at_end : across::anew;
    }

  private:
    expression limit_;
};

} // namespace

across joined(across a, across b) {
    return a == b ? a : a == across::once || b == across::once ? across::once : across::anew;
}

expression operator+(const expression& a, const expression& b) { return joined(a, b, 1); }
expression operator-(const expression& a, const expression& b) { return joined(a, b, -1); }
expression the(std::string_view figure) { return std::make_shared<const other_figure>(figure); }
expression times(const expression& a, const expression& b) { return std::make_shared<const product>(a, b); }
expression over(const expression& top, const expression& bottom, std::string_view reason, bool below_0) {
    return std::make_shared<const quotient>(top, bottom, reason, below_0);
}
expression at_most(const expression& limit, const expression& of) { return std::make_shared<const limited>(limit, of); }
expression above_0(const expression& of) { return std::make_shared<const positive_part>(of); }

const number& source::figure(std::string_view name) {
    const auto known = figures_.find(name);
    return known != figures_.end() ? known->second
                                   : figures_.emplace(name, line_named(name).is->value(*this)).first->second;
}

} // namespace tarewell::figures
