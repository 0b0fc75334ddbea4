#include "figures/second_sums.hpp"

#include "figures/lines.hpp"
#include "grant/account.hpp"
#include "grant/measures.hpp"

#include <algorithm>
#include <stdexcept>

namespace tarewell::figures {
namespace {

std::optional<quantity::day> day_in(const cell& of) {
    const auto* on = std::get_if<quantity::day>(&of);
    return on != nullptr ? std::optional{*on} : std::nullopt;
}

/// The columns of a table that show a measure.
class shown_columns {
  public:
    shown_columns(const table& of, const reconcile::shown_in& shown)
        : on_{place(of, shown.on)}, until_{place(of, shown.until)}, rows_of_thing_{place(of, shown.rows_of_thing)} {
        for (const auto& each : shown.where)
            if (!each.column.empty()) where_.emplace_back(of.column(each.column), &each);
        for (const auto& column : {shown.adds, shown.adds_too})
            if (!column.empty()) adds_.push_back(of.column(column));
    }

    [[nodiscard]] bool has_its_words(const std::vector<cell>& row) const {
        return std::all_of(where_.begin(), where_.end(), [&](const auto& each) {
            const auto* said = std::get_if<std::string>(&row[each.first]);
            return (said != nullptr && *said == each.second->word) == each.second->is;
        });
    }
    [[nodiscard]] std::int64_t units(const std::vector<cell>& row) const {
        std::int64_t all = 0;
        for (const auto column : adds_)
            all += units_in(row[column]);
        return all;
    }
    [[nodiscard]] std::optional<quantity::day> on(const std::vector<cell>& row) const { return day_at(row, on_); }
    [[nodiscard]] std::optional<quantity::day> until(const std::vector<cell>& row) const { return day_at(row, until_); }
    [[nodiscard]] bool thing_has_rows(const std::vector<cell>& row) const { return units_in(row[*rows_of_thing_]) > 0; }

  private:
    std::optional<std::size_t> on_, until_, rows_of_thing_;
    std::vector<std::pair<std::size_t, const reconcile::shown_in::only*>> where_;
    std::vector<std::size_t> adds_;

    static std::optional<std::size_t> place(const table& of, std::string_view column) {
        return column.empty() ? std::nullopt : std::optional{of.column(column)};
    }
    static std::optional<quantity::day> day_at(const std::vector<cell>& row, std::optional<std::size_t> column) {
        return column ? day_in(row[*column]) : std::nullopt;
    }
    /// A cell's thousandths, cents or count; 0 for one without a number.
    static std::int64_t units_in(const cell& of) {
        if (const auto* heft = std::get_if<weight>(&of)) return heft->count();
        if (const auto* dollars = std::get_if<money>(&of)) return dollars->count();
        if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
        return 0;
    }
};

/// Filters rows of the evidence tables and sums their cells, as a reviewer does.
class tabled_source : public source {
  public:
    tabled_source(const ground& under, const std::vector<table>& tables) : source{under}, tables_{tables} {}

    std::int64_t total(const counted& of) const override {
        const auto& shown = of.of.shown;
        const auto& rows = the(shown.table).rows;
        const shown_columns columns{the(shown.table), shown};
        const bool by_thing = of.how == how::distinct && of.when == when::in_quarter && !shown.rows_of_thing.empty();
        const auto stands = [&](const std::vector<cell>& row) {
            if (by_thing) return columns.thing_has_rows(row);
            if (shown.on.empty()) return true;
            const auto day = columns.on(row);
            return day && on.holds(of.when, *day, columns.until(row));
        };
        std::int64_t all = 0;
        for (const auto& row : rows)
            if (columns.has_its_words(row) && stands(row)) all += of.how == how::sum ? columns.units(row) : 1;
        return all;
    }

    money indirect_through(quantity::day last) const override {
        return grant::indirect_through(on.season, last, [this](quantity::day end) { return base_through(end); });
    }

    [[nodiscard]] std::string heading(std::string_view name, std::string_view column) const {
        const auto& of = the(name);
        return of.columns[of.column(column)].heading;
    }

  private:
    const std::vector<table>& tables_;

    [[nodiscard]] const table& the(std::string_view name) const {
        for (const auto& each : tables_)
            if (each.name == name) return each;
        throw std::logic_error("no evidence table " + std::string{name});
    }

    [[nodiscard]] money base_through(quantity::day last) const {
        const auto& shown = grant::measures::indirect_base.shown;
        const auto& of = the(shown.table);
        const shown_columns columns{of, shown};
        const auto subaward = of.column("subaward");
        grant::base_sum base{on.season};
        for (const auto& row : of.rows) {
            if (!columns.has_its_words(row) || *columns.on(row) > last) continue;
            const auto* named = std::get_if<std::string>(&row[subaward]);
            base.add(money{columns.units(row)}, *columns.on(row), named != nullptr ? *named : std::string{});
        }
        return base.capped();
    }
};

struct difference_of {
    figures::value operator()(std::int64_t a, std::int64_t b) const { return a - b; }
    figures::value operator()(weight a, weight b) const { return a - b; }
    figures::value operator()(money a, money b) const { return a - b; }
    figures::value operator()(real a, real b) const { return a - b; }
    template <class A, class B> figures::value operator()(const A&, const B&) const { return {}; }
};

} // namespace

std::string name_of(tie result) {
    return result == tie::ties ? "ties" : result == tie::differs ? "does not tie" : "no second sum";
}

std::vector<second_sum> second_sums(const report& of, const std::vector<table>& tables, const records::season& season,
                                    const reconcile::reckoning& reckoning) {
    tabled_source from{{season, reckoning, of.basis.days}, tables};
    const auto heading = [&](std::string_view table, std::string_view column) { return from.heading(table, column); };
    std::vector<second_sum> sums;
    for (const auto& figure : of.figures) {
        const auto& line = line_named(figure.name);
        if (line.is == nullptr) {
            sums.push_back(
                {figure.name, figure.value, {}, {}, tie::no_second, "from the audit's model; no sum of rows"});
            continue;
        }
        const auto second = value_of(from.figure(line.name), line.unit);
        sums.push_back({figure.name, figure.value, second, std::visit(difference_of{}, figure.value, second),
                        figure.value == second ? tie::ties : tie::differs,
                        said_of(of.basis.period, line.is->words(from.on, heading))});
    }
    return sums;
}

} // namespace tarewell::figures
