#pragma once
#include "figures/table.hpp"

#include <functional>
#include <map>
#include <optional>
#include <string>
#include <vector>

namespace tarewell::figures {

/// A cell's thousandths, cents or count; 0 for one without a number.
std::int64_t units_in(const cell& of);

struct worked_out {
    figures::value value;
    std::string way;
};

/// Works figures out a second time by filtering rows of the evidence tables and summing their
/// cells.
class second_summer {
  public:
    second_summer(const report& of, const std::vector<table>& tables, const ledger::season& season)
        : on_{of.basis}, tables_{tables}, s_{season}, terms_{season.terms_on(of.basis.days.to)} {}

    worked_out work_out(const std::string& name);

  private:
    const basis& on_;
    const std::vector<table>& tables_;
    const ledger::season& s_;
    ledger::award terms_; ///< in force on the quarter's last day
    std::map<std::string, worked_out> made_;

    enum class when { in_quarter, to_date, before };
    using row_test = std::function<bool(const std::vector<cell>&)>;

    // Filters.
    [[nodiscard]] const table& the(std::string_view name) const;
    [[nodiscard]] bool holds(const cell& date, when which) const;
    [[nodiscard]] row_test dated(const table& of, std::string_view column, when which) const;
    static row_test both(row_test a, row_test b);
    static row_test says(const table& of, std::string_view column, std::string text, bool wanted = true);
    static std::int64_t count(const table& of, const row_test& test);
    static std::int64_t sum(const table& of, std::string_view column, const row_test& test);
    [[nodiscard]] worked_out rows(std::string_view name, std::string_view column) const;
    [[nodiscard]] worked_out hefts(std::string_view name, std::string_view what, std::string_view column) const;

    // Figures; each part answers for its own names.
    worked_out first_time(const std::string& name);
    std::optional<worked_out> bundles(const std::string& name) const;
    std::optional<worked_out> growers(const std::string& name) const;
    std::optional<worked_out> bales(const std::string& name) const;
    [[nodiscard]] std::int64_t diverted(when which) const;
    [[nodiscard]] std::string diverted_way(const std::string& days) const;
    std::optional<worked_out> tons(const std::string& name) const;
    [[nodiscard]] std::int64_t on_grant(when which) const;
    [[nodiscard]] std::int64_t match(when which) const;
    [[nodiscard]] std::int64_t base_through(quantity::day last) const;
    [[nodiscard]] std::int64_t indirect(when which) const;
    std::optional<worked_out> dollars(const std::string& name) const;
    worked_out over(std::int64_t top, std::int64_t bottom, std::string way) const;
    worked_out per_ton(std::int64_t cents, std::int64_t units, const char* way) const;
    std::optional<worked_out> agency_money(const std::string& name) const;
    [[nodiscard]] std::int64_t financial_line(char letter) const;
    [[nodiscard]] row_test not_counted() const;
    worked_out projected_tons();
    std::int64_t units(const std::string& name);
    std::optional<worked_out> ratios(const std::string& name);
};

} // namespace tarewell::figures
