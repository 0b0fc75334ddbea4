// Rows of one measure: what they add, and where a reviewer finds them.
#include "figures/expression.hpp"
#include "figures/table.hpp"
#include "quantity/large_room.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <limits>
#include <utility>

namespace tarewell::figures {

namespace {

constexpr auto no_day = std::numeric_limits<std::int32_t>::max();

std::int32_t number_of(quantity::day on) { return static_cast<std::int32_t>(on.time_since_epoch().count()); }

std::int32_t number_of(const std::optional<quantity::day>& until) { return until ? number_of(*until) : no_day; }

bool holds(when which, std::int32_t on, std::int32_t until, std::int32_t from, std::int32_t to) {
    switch (which) {
    case when::in_quarter:
        return on >= from && on <= to;
    case when::to_date:
        return on <= to;
    case when::before:
        return on < from;
    case when::standing:
        break;
    }
    return on <= to && until > to;
}

/// Shows each row that counts, and what it adds.
template <class See> void visit(const counted& of, const ground& on, See&& see) {
    const auto& rows = on.rows(of.of);
    const auto from = number_of(on.days.from), to = number_of(on.days.to);
    std::vector<bool> seen;
    const auto is_first = [&seen](std::size_t whom) {
        if (whom >= seen.size()) seen.resize(2 * whom + 1);
        const bool first = !seen[whom];
        seen[whom] = true;
        return first;
    };
    if (of.how == how::first_time)
        for (const auto& each : rows.all)
            if (each.on < from) is_first(each.whom);
    const auto count_in = [&](const packed_row& each) {
        evidence_row row{each.which, each.entry, each.has_adds ? std::optional{each.adds} : std::nullopt};
        if (of.how != how::sum && row.adds) row.adds = of.how == how::count || is_first(each.whom) ? 1 : 0;
        if (of.how != how::first_time || row.adds == 1) see(row);
    };
    if (of.when == when::in_quarter)
        for (const auto index : rows.in_quarter)
            count_in(rows.all[index]);
    else
        for (const auto& each : rows.all)
            if (holds(of.when, each.on, each.until, from, to)) count_in(each);
}

} // namespace

bool ground::holds(when which, quantity::day on, const std::optional<quantity::day>& until) const {
    return figures::holds(which, number_of(on), number_of(until), number_of(days.from), number_of(days.to));
}

/// The memory of the measure that was asked for first is used again once so many stand.
packed_rows& ground::room_for(const measure& of) const {
    constexpr std::size_t most_kept = 2;
    kept_.reserve(most_kept);
    if (kept_.size() < most_kept)
        kept_.emplace_back();
    else
        std::rotate(kept_.begin(), kept_.begin() + 1, kept_.end());
    auto& [how, rows] = kept_.back();
    how = of.rows;
    rows.all.clear();
    rows.in_quarter.clear();
    quantity::make_large_room(rows.all, std::max(season.bundles.size(), season.receipts.size()));
    return rows;
}

const packed_rows& ground::rows(const measure& of) const {
    const auto known =
        std::find_if(kept_.begin(), kept_.end(), [&](const auto& each) { return each.first == of.rows; });
    if (known != kept_.end()) return known->second;
    auto& rows = room_for(of);
    of.rows(season, reckoning, days.to, [&](const reconcile::measured& each) {
        if (each.on > days.to) return;
        if (days.holds(each.on)) rows.in_quarter.push_back(static_cast<std::uint32_t>(rows.all.size()));
        rows.all.push_back({each.row.entry, each.row.adds.value_or(0), number_of(each.on), number_of(each.until),
                            static_cast<std::uint32_t>(each.whom), each.row.which, each.row.adds.has_value()});
    });
    return rows;
}

void see_counted(const counted& of, const ground& on, const see_row& see) { visit(of, on, see); }

quantity::wide total_of(const counted& of, const ground& on) {
    quantity::wide all = 0;
    visit(of, on, [&](const evidence_row& row) { all += row.adds.value_or(0); });
    return all;
}

namespace {

std::string range(const reconcile::shown_in& of, std::string_view column) {
    return form_word(of.table) + "_" + std::string{column};
}

std::string joined(const std::string& criteria, const std::string& more) {
    return criteria.empty() || more.empty() ? criteria + more : criteria + "," + more;
}

std::string words_of_rows(const reconcile::shown_in& of) {
    std::string text;
    for (const auto& each : of.where)
        if (!each.column.empty())
            text = joined(text, fmt::format(R"({},"{}{}")", range(of, each.column), each.is ? "" : "<>", each.word));
    return text;
}

std::string by_day(const reconcile::shown_in& of, std::string_view column, std::string_view day = "quarter_to") {
    return fmt::format(R"({},"<="&{})", range(of, column), day);
}

class counted_rows : public expression_node {
  public:
    explicit counted_rows(const counted& rows) : of_{rows} {}

    number value(source& from) const override { return {fraction{from.total(of_), is_sum() ? of_.of.parts : 1}, {}}; }

    void rows(const ground& on, int sign, const see_row& see) const override {
        see_counted(of_, on, [&](evidence_row row) {
            if (row.adds) *row.adds *= sign;
            see(row);
        });
    }

    std::optional<figures::formula> formula(const ground&) const override {
        const auto& shown = of_.of.shown;
        auto text = parts(criteria());
        if (of_.when == when::standing && !shown.until.empty())
            text += parts(joined(criteria(), by_day(shown, shown.until)), true);
        return figures::formula{text, {}, text.find_first_of("+-") != std::string::npos, is_sum()};
    }

    std::string words(const ground&, const headings& of) const override {
        const auto& shown = of_.of.shown;
        const auto called = [&](std::string_view column) { return fmt::format("'{}'", of(shown.table, column)); };
        std::string text = is_sum() ? called(shown.adds) : "rows";
        if (!shown.adds_too.empty() && is_sum()) text += " and " + called(shown.adds_too);
        text += fmt::format(" of {}", shown.table);
        const char* joint = " with ";
        const auto add = [&](const std::string& condition) { text += std::exchange(joint, " and ") + condition; };
        if (has_rows_of_thing())
            add(called(shown.rows_of_thing) + " above 0");
        else if (!shown.on.empty())
            add(called(shown.on) + (of_.when == when::in_quarter ? " in the quarter"
                                    : of_.when == when::before   ? " before the quarter"
                                                                 : " by the last day"));
        if (of_.when == when::standing && !shown.until.empty()) add(called(shown.until) + " empty or later");
        for (const auto& each : shown.where)
            if (!each.column.empty())
                add(fmt::format("{} {}{}", called(each.column), each.is ? "" : "not ", each.word));
        return text;
    }

    figures::across across_quarters() const override {
        if (of_.when != when::in_quarter) return across::at_end;
        // A bale is pressed on one day, and what comes for the first time does so once.
        const bool once = of_.how == how::distinct && of_.of.shown.table != "Bales";
        return once ? across::once : across::sums;
    }
    bool is_of(const records::award& award) const override { return of_.of.of == nullptr || of_.of.of(award); }

  private:
    counted of_;

    [[nodiscard]] bool is_sum() const { return of_.how == how::sum; }
    [[nodiscard]] bool has_rows_of_thing() const {
        return of_.when == when::in_quarter && of_.how == how::distinct && !of_.of.shown.rows_of_thing.empty();
    }
    /// The criteria that a row counts: its words and its day.
    [[nodiscard]] std::string criteria() const {
        const auto& shown = of_.of.shown;
        const auto words = words_of_rows(shown);
        if (has_rows_of_thing()) return joined(words, range(shown, shown.rows_of_thing) + R"(,">0")");
        if (shown.on.empty()) return words;
        if (of_.when == when::in_quarter)
            return joined(words, fmt::format(R"({0},">="&quarter_from,{0},"<="&quarter_to)", range(shown, shown.on)));
        if (of_.when == when::before) return joined(words, range(shown, shown.on) + R"(,"<"&quarter_from)");
        return joined(words, by_day(shown, shown.on));
    }

    /// Counts or sums over the rows of the criteria, or takes them off.
    [[nodiscard]] std::string parts(const std::string& criteria, bool off = false) const {
        const auto& shown = of_.of.shown;
        if (!is_sum()) return fmt::format("{}COUNTIFS({})", off ? "-" : "", criteria);
        std::string text;
        const auto add = [&](std::string_view column) {
            if (column.empty()) return;
            if (!text.empty() || off) text += off ? "-" : "+";
            text += criteria.empty() ? fmt::format("SUM({})", range(shown, column))
                                     : fmt::format("SUMIFS({},{})", range(shown, column), criteria);
        };
        add(shown.adds);
        add(shown.adds_too);
        return text;
    }
};

expression rows_of(const measure& of, how way, when which) {
    return std::make_shared<const counted_rows>(counted{of, way, which});
}

} // namespace

std::string summed_through(const measure& of, std::string_view day, std::string_view criteria) {
    return fmt::format(
        "SUMIFS({},{})", range(of.shown, of.shown.adds),
        joined(joined(words_of_rows(of.shown), std::string{criteria}), by_day(of.shown, of.shown.on, day)));
}

expression sum(const measure& of, when which) { return rows_of(of, how::sum, which); }
expression count(const measure& of, when which) { return rows_of(of, how::count, which); }
expression distinct(const measure& of, when which) { return rows_of(of, how::distinct, which); }
expression first_time(const measure& of) { return rows_of(of, how::first_time, when::in_quarter); }

} // namespace tarewell::figures
