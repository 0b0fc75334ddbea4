#pragma once
#include "figures/figure.hpp"
#include "quantity/fraction.hpp"
#include "reconcile/measure.hpp"

#include <cstdint>
#include <map>
#include <memory>
#include <vector>

namespace tarewell::figures {

using quantity::fraction;
using reconcile::evidence_row;
using reconcile::measure;
using see_row = std::function<void(const evidence_row&)>;

/// Which of a measure's rows count: dated in the quarter, by its last day, before it; or standing on its last day.
enum class when { in_quarter, to_date, before, standing };

/// How they count: summed; one each; once for each grower, site or bale; or such as had no row before the quarter.
enum class how { sum, count, distinct, first_time };

/// Rows of one measure, counted in one way.
struct counted {
    const measure& of;
    figures::how how;
    figures::when when;
};

/// A measure's rows in little memory, since figures go through them again and again.
struct packed_row {
    records::entry_no entry;
    std::int64_t adds;
    std::int32_t on, until; ///< days since 1970; `until` is the greatest number for none
    std::uint32_t whom;
    records::kind which;
    bool has_adds;
};

/// In the season's order.
struct packed_rows {
    std::vector<packed_row> all;
    std::vector<std::uint32_t> in_quarter; ///< which of them: most figures look at these alone
};

/// A quarter of a season: what every reading stands on.
struct ground {
    ground(const records::season& of, const reconcile::reckoning& reckoned, quantity::span_of_days quarter)
        : season{of}, reckoning{reckoned}, days{quarter}, terms{of.terms_on(quarter.to)} {}
    /// Those dated by the quarter's last day: no figure looks further. Good until the next call.
    [[nodiscard]] const packed_rows& rows(const measure& of) const;
    [[nodiscard]] bool holds(when which, quantity::day on, const std::optional<quantity::day>& until) const;
    const records::season& season;
    const reconcile::reckoning& reckoning;
    quantity::span_of_days days;
    records::award terms; ///< in force on the quarter's last day
    [[nodiscard]] quantity::day day_before() const { return days.from - date::days{1}; }

  private:
    using how_to_see = decltype(measure::rows);
    mutable std::vector<std::pair<how_to_see, packed_rows>> kept_;
    packed_rows& room_for(const measure& of) const;
};

/// A number in the figure's own unit; none where it is undefined, and why.
struct number {
    std::optional<fraction> is;
    std::string why_not;
};

/// Where numbers come from: the measures of a season, or the cells of its evidence tables.
class source {
  public:
    explicit source(const ground& under) : on{under} {}
    virtual ~source() = default;
    source(const source&) = delete;
    source& operator=(const source&) = delete;

    const ground on;
    /// In the measure's parts of a whole.
    [[nodiscard]] virtual std::int64_t total(const counted& rows) const = 0;
    [[nodiscard]] virtual quantity::money indirect_through(quantity::day last) const = 0;
    [[nodiscard]] virtual fraction goal_tons() const { return quantity::fraction_of(on.terms.goal_tons); }
    /// A figure by its line, worked out once.
    const number& figure(std::string_view name);

  protected:
    /// A figure that is known without its line.
    void know(std::string_view name, number is) { figures_.insert_or_assign(name, std::move(is)); }

  private:
    std::map<std::string_view, number> figures_;
};

/// What people call a column of an evidence table.
using headings = std::function<std::string(std::string_view table, std::string_view column)>;

/// A workbook formula over named ranges, figures and terms.
struct formula {
    std::string text;
    std::string undefined_where; ///< "goal_tons=0"; empty: never
    bool has_parts = false;      ///< needs parentheses beside * and /
    bool is_summed = false;      ///< of whole units as doubles: to be rounded to them
};

/// How a figure of some quarters becomes that of all of them: it is their sum; it stands on the last day; whom it
/// counts is counted once in all; or it is worked out anew from what is summed.
enum class across { sums, at_end, once, anew };
across joined(across a, across b);

/// What a figure is. Its readings: its value, the rows behind it, its formula, and words for a reviewer.
class expression_node {
  public:
    expression_node() = default;
    virtual ~expression_node() = default;
    expression_node(const expression_node&) = delete;
    expression_node& operator=(const expression_node&) = delete;

    [[nodiscard]] virtual number value(source& from) const = 0;
    /// Rows may come twice; `sign` is 1 or -1.
    virtual void rows(const ground& on, int sign, const see_row& see) const = 0;
    /// None where the evidence sheets cannot be added that way.
    [[nodiscard]] virtual std::optional<figures::formula> formula(const ground& on) const = 0;
    [[nodiscard]] virtual std::string words(const ground& on, const headings& of) const = 0;
    /// False for what this award's way of counting has not.
    [[nodiscard]] virtual bool is_of(const records::award&) const { return true; }
    [[nodiscard]] virtual figures::across across_quarters() const = 0;
    /// True for what is no amount: over several ledgers it is worked out anew from what is summed.
    [[nodiscard]] virtual bool is_rate() const { return false; }
    /// True where rows decide a figure that they do not sum to.
    [[nodiscard]] virtual bool multiplies() const { return false; }
};
using expression = std::shared_ptr<const expression_node>;

expression sum(const measure& of, when which);
expression count(const measure& of, when which);
expression distinct(const measure& of, when which);
/// Growers, sites or bales with a row in the quarter and none before it.
expression first_time(const measure& of);

expression operator+(const expression& a, const expression& b);
expression operator-(const expression& a, const expression& b);

/// Another figure.
expression the(std::string_view figure);
expression times(const expression& a, const expression& b);
/// An amount at a setting's price on the quarter's last day, rounded to the cent once; undefined, with no row behind
/// it, where that is 0.
expression priced_at(const expression& amount, std::string_view setting, std::string_view reason);
/// Undefined where the bottom is 0, or with `below_0` below it, too.
expression over(const expression& top, const expression& bottom, std::string_view reason, bool below_0 = false);
/// An expression, at most a limit: behind it stand its own rows, and the limit's, which add nothing.
expression at_most(const expression& limit, const expression& of);
/// An expression, or 0 where it is below.
expression above_0(const expression& of);
/// Tons of 2,000 lb of a weight.
expression tons(const expression& of);

expression goal_tons();
/// Indirect costs at the award's percent (account.hpp), rounded once; in the quarter the difference of two to date.
expression indirect(when which);
/// The match that goes with an amount, rounded once; where the award requires none, `otherwise` or 0.
expression match_for(const expression& on_grant, const expression& otherwise = nullptr);

/// The formula of a measure's sum through a day, itself a formula; of rows of further criteria alone.
std::string summed_through(const measure& of, std::string_view day, std::string_view criteria = {});

/// The rows that count, and what each adds.
void see_counted(const counted& rows, const ground& on, const see_row& see);
/// What they add together.
quantity::wide total_of(const counted& rows, const ground& on);

} // namespace tarewell::figures
