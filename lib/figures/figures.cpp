#include "figures/ledgers_summed.hpp"
#include "figures/lines.hpp"
#include "grant/account.hpp"
#include "quantity/large_room.hpp"
#include "records/errors.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <cmath>

namespace tarewell::figures {
namespace {

/// What the season's measures give.
class measured_source : public source {
  public:
    using source::source;

    std::int64_t total(const counted& rows) const override { return quantity::half_up(total_of(rows, on), 1); }
    quantity::money indirect_through(quantity::day last) const override {
        return grant::indirect_through(on.season, last);
    }
};

/// Counts rows, each once, without keeping them.
class row_counter {
  public:
    explicit row_counter(records::entry_no head) {
        quantity::make_large_room(seen_in_, static_cast<std::size_t>(head) + 1);
    }
    std::size_t count(const line& of, const ground& on) {
        ++turn_;
        std::size_t rows = 0;
        of.is->rows(on, 1, [&](const evidence_row& row) {
            const auto at = static_cast<std::size_t>(row.entry);
            if (at >= seen_in_.size()) seen_in_.resize(std::max(2 * seen_in_.size(), at + 1));
            rows += std::exchange(seen_in_[at], turn_) == turn_ ? 0 : 1;
        });
        return rows;
    }

  private:
    std::vector<std::uint32_t> seen_in_; ///< by entry: the last turn in which it came
    std::uint32_t turn_ = 0;
};

/// Each row once, whatever it adds in all.
std::vector<evidence_row> merged(std::vector<evidence_row> rows) {
    std::sort(rows.begin(), rows.end(), [](const evidence_row& a, const evidence_row& b) { return a.entry < b.entry; });
    std::vector<evidence_row> once;
    for (const auto& row : rows) {
        if (once.empty() || once.back().entry != row.entry) {
            once.push_back(row);
            continue;
        }
        auto& adds = once.back().adds;
        if (row.adds) adds = adds.value_or(0) + *row.adds;
    }
    return once;
}

} // namespace

const figure* report::find(std::string_view name) const {
    for (const auto& each : figures)
        if (each.name == name) return &each;
    return nullptr;
}

report figures_of(const records::season& of, const reconcile::reckoning& reckoned, const quantity::period& period,
                  records::entry_no as_of, bool closed) {
    if (!of.the_award) throw records::input_error("the ledger has no award yet; take in award.csv first");
    return figures_of(of, reckoned, {period, of.days_of(period), as_of, closed});
}

report figures_of(const records::season& of, const reconcile::reckoning& reckoned, const basis& on) {
    report made{on, {}};
    measured_source from{{of, reckoned, on.days}};
    row_counter rows{on.as_of};
    for (const auto& each : all_lines()) {
        if (each.is == nullptr) continue;
        const auto& number = from.figure(each.name);
        made.figures.push_back({std::string{each.name}, value_of(number, each.unit),
                                name_of(each.unit, of.the_award->unit), said_of(on.period, each.meaning),
                                said_of(on.period, number.why_not), rows.count(each, from.on)});
    }
    return made;
}

exact_figures exact_figures_of(const records::season& of, const reconcile::reckoning& reckoned, const basis& on) {
    measured_source from{{of, reckoned, on.days}};
    exact_figures made;
    for (const auto& each : all_lines())
        if (each.is != nullptr) made.emplace(each.name, from.figure(each.name));
    return made;
}

std::vector<evidence_row> evidence_of(std::string_view figure, const basis& on, const records::season& of,
                                      const reconcile::reckoning& reckoned) {
    const auto& asked = line_named(figure);
    // What a statistic is predicted for is on hand.
    const auto& line = asked.is == nullptr ? line_named("on_hand_bundles") : asked;
    const bool adds = asked.is != nullptr && !line.is->multiplies();
    std::vector<evidence_row> rows;
    line.is->rows({of, reckoned, on.days}, 1, [&](evidence_row row) {
        if (!adds) row.adds.reset();
        rows.push_back(row);
    });
    return merged(std::move(rows));
}

weight weight_over(std::string_view figure, quantity::span_of_days days, const records::season& of,
                   const reconcile::reckoning& reckoned) {
    measured_source from{{of, reckoned, days}};
    return std::get<weight>(value_of(from.figure(figure), line_named(figure).unit));
}

std::optional<std::string> formula_of(std::string_view figure, const basis& on, const records::season& of,
                                      const reconcile::reckoning& reckoned) {
    const auto& line = line_named(figure);
    const auto made = line.is == nullptr ? std::nullopt : line.is->formula({of, reckoned, on.days});
    if (!made) return std::nullopt;
    const int places = line.unit == unit::heft ? 3 : line.unit == unit::dollars ? 2 : 0;
    const auto text = made->is_summed && places > 0 ? fmt::format("ROUND({},{})", made->text, places) : made->text;
    return made->undefined_where.empty() ? "=" + text : fmt::format(R"(=IF({},"",{}))", made->undefined_where, text);
}

std::string text_of(const value& of) {
    struct writer {
        std::string operator()(std::monostate) const { return ""; }
        std::string operator()(std::int64_t count) const { return fmt::format("{}", count); }
        std::string operator()(weight each) const { return quantity::text_of(each); }
        std::string operator()(quantity::money each) const { return quantity::text_of(each); }
        std::string operator()(real each) const { return fmt::format("{}", each); }
    };
    return std::visit(writer{}, of);
}

std::string shown(const value& of, std::string_view unit) {
    const auto* number = std::get_if<real>(&of);
    if (number == nullptr) return text_of(of);
    const int places = unit == "$/ton" ? 2 : 4;
    const bool would_vanish = *number != 0 && std::abs(*number) < 0.5 * std::pow(10.0, -places);
    return would_vanish ? fmt::format("{:.{}f}", *number, static_cast<int>(std::ceil(-std::log10(std::abs(*number)))))
                        : fmt::format("{:.{}f}", *number, places);
}

} // namespace tarewell::figures
