#include "figures/quarters_across.hpp"

#include "figures/lines.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace tarewell::figures {
namespace {

/// What text_of(value) wrote, read back as the kind that `like` is; none for an empty text.
struct reader {
    std::string_view text;

    value operator()(std::monostate) const { return guessed(); }
    value operator()(std::int64_t) const { return whole(); }
    value operator()(weight) const { return weight{units()}; }
    value operator()(money) const { return money{units()}; }
    value operator()(real) const { return number(); }

  private:
    [[nodiscard]] std::int64_t whole() const {
        std::int64_t read = 0;
        std::from_chars(text.data(), text.data() + text.size(), read);
        return read;
    }
    /// Always with its places: "12.500" is 12500 thousandths.
    [[nodiscard]] std::int64_t units() const {
        std::string digits{text};
        std::erase(digits, '.');
        std::int64_t read = 0;
        std::from_chars(digits.data(), digits.data() + digits.size(), read);
        return read;
    }
    [[nodiscard]] real number() const {
        real read = 0;
        std::from_chars(text.data(), text.data() + text.size(), read);
        return read;
    }
    /// Undefined now and defined then: only ratios, costs per ton and the fee avoided can be.
    [[nodiscard]] value guessed() const { return number(); }
};

value read_as(const value& like, std::string_view unit, std::string_view text) {
    if (text.empty()) return {};
    if (std::holds_alternative<std::monostate>(like) && unit == "$") return reader{text}(money{});
    return std::visit(reader{text}, like);
}

template <class Join> value joined(const value& a, const value& b, const Join& join) {
    return std::visit(
        [&]<class A, class B>(const A& left, const B& right) -> value {
            if constexpr (std::is_same_v<A, B> && !std::is_same_v<A, std::monostate>)
                return join(left, right);
            else
                return {};
        },
        a, b);
}

bool is_nothing(const value& of) {
    if (const auto* count = std::get_if<std::int64_t>(&of)) return *count == 0;
    if (const auto* heft = std::get_if<weight>(&of)) return *heft == weight{};
    if (const auto* dollars = std::get_if<money>(&of)) return *dollars == money{};
    if (const auto* number = std::get_if<real>(&of)) return *number == 0;
    return true;
}

class columns_maker {
  public:
    columns_maker(const records::season& season, const reconcile::reckoning& reckoned, const basis& on)
        : season_{season}, reckoned_{reckoned}, on_{on}, calendar_{season.the_award.value().calendar()},
          award_{season.the_award->begins, season.terms_on(quantity::day::max()).ends} {}

    std::vector<quarter_column> run() {
        auto first = calendar_.holding(on_.days.from);
        if (on_.period.is == quantity::period::kind::whole_award) {
            first = calendar_.holding(award_.from);
            const auto begins = calendar_.days_of(first).from;
            if (on_.days.from < begins)
                add(fmt::format("before {}", quantity::text_of(begins)), {on_.days.from, begins - date::days{1}}, {});
        }
        for (auto quarter = first; calendar_.days_of(quarter).from <= on_.days.to; quarter = next(quarter))
            add_quarter(quarter);
        return std::move(made_);
    }

  private:
    const records::season& season_;
    const reconcile::reckoning& reckoned_;
    const basis& on_;
    const quantity::quarter_calendar calendar_;
    const quantity::span_of_days award_;
    std::vector<quarter_column> made_;

    void add_quarter(quantity::quarter quarter) {
        const auto whole = calendar_.days_of(quarter);
        const bool first_of_award = on_.period.is == quantity::period::kind::whole_award && whole.holds(award_.from);
        // Nothing is dated before the whole award's first day, so its first quarter is whole.
        const auto from = first_of_award ? whole.from : std::max(whole.from, on_.days.from);
        const quantity::span_of_days days{from, std::min(whole.to, on_.days.to)};
        if (days.from == whole.from && days.to == whole.to) return add(text_of(quarter), days, quarter);
        add(fmt::format("{} to {}", quantity::text_of(days.from), quantity::text_of(days.to)), days, {});
    }

    void add(std::string name, quantity::span_of_days days, std::optional<quantity::quarter> whole) {
        const basis on{whole ? quantity::period{*whole} : on_.period, days, on_.as_of, false};
        quarter_column made{std::move(name),
                            days,
                            whole ? season_.closing_of(*whole) : nullptr,
                            figures_of(season_, reckoned_, on),
                            {}};
        const bool outside = days.to < award_.from || days.from > award_.to;
        if (made.closed == nullptr && outside && !has_anything(made.now)) return;
        if (made.closed != nullptr) made.filed = filed_values(*made.closed, made.now);
        made_.push_back(std::move(made));
    }
};

} // namespace

bool has_anything(const report& of) {
    return std::any_of(of.figures.begin(), of.figures.end(), [](const figure& each) {
        return line_named(each.name).is->across_quarters() == across::sums && !is_nothing(each.value);
    });
}

const value& quarter_column::shown_of(std::string_view figure) const {
    const auto found = filed.find(figure);
    return found == filed.end() ? now_of(figure) : found->second;
}

value sum_of(const value& a, const value& b) {
    return joined(a, b, [](const auto& left, const auto& right) { return left + right; });
}
value difference_of(const value& a, const value& b) {
    return joined(a, b, [](const auto& left, const auto& right) { return left - right; });
}

std::map<std::string, value, std::less<>> filed_values(const records::closing& of, const report& now) {
    std::map<std::string, value, std::less<>> filed;
    std::string_view rest = of.figures;
    while (!rest.empty()) {
        const auto end = std::min(rest.find('\n'), rest.size());
        const auto line = rest.substr(0, end), name = line.substr(0, line.find('='));
        if (const auto* figure = now.find(name); figure != nullptr && name.size() < line.size())
            filed.emplace(name, read_as(figure->value, figure->unit, line.substr(name.size() + 1)));
        rest.remove_prefix(std::min(end + 1, rest.size()));
    }
    return filed;
}

quarters_across quarters_side_by_side(const records::season& season, const reconcile::reckoning& reckoned,
                                      const report& of) {
    quarters_across made{columns_maker{season, reckoned, of.basis}.run(), {}};
    for (const auto& each : of.figures) {
        const auto& line = line_named(each.name);
        if (line.is == nullptr) continue;
        figure_across over{&each, line.is->across_quarters(), {}};
        if (over.how == across::sums)
            for (const auto& column : made.columns)
                if (column.closed != nullptr) {
                    const auto moved = difference_of(column.now_of(each.name), column.shown_of(each.name));
                    over.changed =
                        std::holds_alternative<std::monostate>(over.changed) ? moved : sum_of(over.changed, moved);
                }
        made.lines.push_back(std::move(over));
    }
    return made;
}

std::string in_words(across how, const quantity::period& period) {
    switch (how) {
    case across::sums:
        return "sum";
    case across::at_end:
        return "on the last day";
    case across::once:
        return said_of(period, "each once in the quarter");
    case across::anew:
        break;
    }
    return "worked out anew";
}

} // namespace tarewell::figures
