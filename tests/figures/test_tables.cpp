#include "figures/table.hpp"
#include "quiet_season.hpp"

#include <catch2/catch.hpp>

#include <algorithm>

using namespace tarewell;
using namespace tarewell::tests;
using figures::table;

// A reviewer filters a table by a date and sums a column: that is done here, and must give the figure.

namespace {

class reviewer {
  public:
    reviewer(const reckoned_season& season, quantity::quarter quarter)
        : report_{season.figures(quarter)}, tables_{figures::evidence_tables(season.season(), season.reckoned(),
                                                                             report_.basis, false)} {}

    [[nodiscard]] const table& sheet(std::string_view name) const {
        for (const auto& each : tables_)
            if (each.name == name) return each;
        throw std::logic_error("no table " + std::string{name});
    }
    /// Sum of a column (or the count of rows, for "") where the date column is in the quarter, or through its last day.
    [[nodiscard]] std::int64_t sum(std::string_view name, std::string_view column, std::string_view date,
                                   bool to_date = false, std::string_view only_column = {},
                                   std::string_view only = {}) const {
        const auto& of = sheet(name);
        std::int64_t total = 0;
        for (const auto& row : of.rows) {
            const auto* day = std::get_if<quantity::day>(&row[of.column(date)]);
            if (day == nullptr || *day > report_.basis.days.to || (!to_date && *day < report_.basis.days.from))
                continue;
            if (!only_column.empty() && std::get<std::string>(row[of.column(only_column)]) != only) continue;
            total += column.empty() ? 1 : whole(row[of.column(column)]);
        }
        return total;
    }
    [[nodiscard]] std::int64_t whole_column(std::string_view name, std::string_view column) const {
        std::int64_t total = 0;
        for (const auto& row : sheet(name).rows)
            total += whole(row[sheet(name).column(column)]);
        return total;
    }
    [[nodiscard]] std::int64_t made_and_not_shipped() const {
        const auto& bales = sheet("Bales");
        const auto by_the_last_day = [&](const auto& row, const char* column) {
            const auto* day = std::get_if<quantity::day>(&row[bales.column(column)]);
            return day != nullptr && *day <= report_.basis.days.to;
        };
        return std::count_if(bales.rows.begin(), bales.rows.end(), [&](const auto& row) {
            return by_the_last_day(row, "made_on") && !by_the_last_day(row, "shipped_on");
        });
    }
    [[nodiscard]] std::int64_t figure(std::string_view name) const {
        const auto& value = report_.find(name)->value;
        if (const auto* weight = std::get_if<quantity::weight>(&value)) return weight->count();
        if (const auto* money = std::get_if<quantity::money>(&value)) return money->count();
        return std::get<std::int64_t>(value);
    }
    [[nodiscard]] const std::vector<table>& tables() const { return tables_; }

  private:
    figures::report report_;
    std::vector<table> tables_;

    static std::int64_t whole(const figures::cell& of) {
        if (const auto* weight = std::get_if<quantity::weight>(&of)) return weight->count();
        if (const auto* money = std::get_if<quantity::money>(&of)) return money->count();
        if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
        return 0;
    }
};

template <class Body> void for_each_season(Body&& body) {
    for (const auto& folder : kept_seasons()) {
        const reckoned_season season{folder};
        const auto first = season.season().the_award->calendar().holding(season.season().the_award->begins);
        for (auto quarter = first; quarter < quantity::quarter{first.year + 1, first.number};
             quarter = quantity::next(quarter)) {
            CAPTURE(folder, quantity::text_of(quarter));
            body(season, reviewer{season, quarter});
        }
    }
}

} // namespace

TEST_CASE("the bundles' table sums to the figures of bundles") {
    for_each_season([](const reckoned_season&, const reviewer& sums) {
        CHECK(sums.sum("Bundles", "", "registered_on") == sums.figure("registered_bundles"));
        CHECK(sums.sum("Bundles", "estimate", "registered_on") == sums.figure("registered_estimate"));
        CHECK(sums.sum("Bundles", "", "received_on") == sums.figure("received_bundles"));
        CHECK(sums.sum("Bundles", "estimate", "received_on") == sums.figure("received_estimate"));
        CHECK(sums.sum("Bundles", "", "rejected_on") == sums.figure("rejected_bundles"));
        CHECK(sums.sum("Bundles", "estimate", "rejected_on") == sums.figure("rejected_estimate"));
        CHECK(sums.sum("Bundles", "", "baled_on") == sums.figure("baled_bundles"));
        CHECK(sums.sum("Bundles", "", "received_on", true) - sums.sum("Bundles", "", "left_on", true) ==
              sums.figure("on_hand_bundles"));
        CHECK(sums.sum("Bundles", "estimate", "received_on", true) - sums.sum("Bundles", "estimate", "left_on", true) ==
              sums.figure("on_hand_estimate"));
        CHECK(sums.sum("Bundles", "estimate", "weighed_on", false, "in_bale", "yes") == sums.figure("bale_estimate"));
    });
}

TEST_CASE("the bales' and rejects' tables sum to what was weighed and diverted") {
    for_each_season([](const reckoned_season& season, const reviewer& sums) {
        CHECK(sums.sum("Bales", "", "made_on") == sums.figure("bales_made"));
        CHECK(sums.sum("Bales", "", "weighed_on") == sums.figure("bales_weighed"));
        CHECK(sums.sum("Bales", "net", "weighed_on") == sums.figure("bale_net_weight"));
        CHECK(sums.sum("Bales", "estimate", "weighed_on") == sums.figure("bale_estimate"));
        CHECK(sums.sum("Rejects", "residue", "date") == sums.figure("residue_weight"));
        CHECK(sums.made_and_not_shipped() == sums.figure("bales_on_hand"));
        const bool by_acceptance = season.season().the_award->counted_when == records::counting::accepted;
        const auto counted =
            by_acceptance ? sums.sum("Acceptances", "weight", "date") : sums.sum("Bales", "net", "counted_on");
        CHECK(counted - sums.sum("Rejects", "residue", "counted_on") == sums.figure("diverted_weight"));
    });
}

TEST_CASE("the costs' and gifts' tables sum to the grant and the match") {
    for_each_season([](const reckoned_season& season, const reviewer& sums) {
        std::int64_t indirect = 0;
        for (const auto& cost : season.season().costs)
            if (cost.fund == records::fund::grant && cost.category == "indirect") ++indirect;
        REQUIRE(indirect == 0); // these seasons have none, so that every grant cost is direct
        CHECK(sums.sum("Costs", "amount", "date", false, "fund", "grant") == sums.figure("grant_spent"));
        CHECK(sums.sum("Costs", "amount", "date", true, "fund", "grant") == sums.figure("grant_spent_to_date"));
        CHECK(sums.sum("Costs", "amount", "date", false, "fund", "match") + sums.sum("In-kind", "value", "date") ==
              sums.figure("match_given"));
        CHECK(sums.sum("Costs", "amount", "date", true, "fund", "match") + sums.sum("In-kind", "value", "date", true) ==
              sums.figure("match_to_date"));
        CHECK(sums.whole_column("Budget", "grant") - sums.figure("grant_spent_to_date") -
                  sums.figure("indirect_to_date") ==
              sums.figure("grant_left"));
    });
}

TEST_CASE("by site and by grower sum to the quarter's bundles and nets, where no bale lost every bundle") {
    for_each_season([](const reckoned_season& season, const reviewer& sums) {
        for (const auto& bale : season.reckoned().bales)
            REQUIRE_FALSE((bale.weighed && bale.inside.empty()));
        for (const auto* name : {"By site", "By grower"}) {
            CHECK(sums.whole_column(name, "registered") == sums.figure("registered_bundles"));
            CHECK(sums.whole_column(name, "received") == sums.figure("received_bundles"));
            CHECK(sums.whole_column(name, "received_estimate") == sums.figure("received_estimate"));
            CHECK(sums.whole_column(name, "rejected") == sums.figure("rejected_bundles"));
            CHECK(sums.whole_column(name, "scale_weight") == sums.figure("bale_net_weight"));
            CHECK(sums.whole_column(name, "weighed_estimate") == sums.figure("bale_estimate"));
        }
    });
}

TEST_CASE("every row of a table has a cell for every column, and growers' names only where they are asked for") {
    const reckoned_season season{"sample_data/season"};
    const auto report = season.figures({2026, 2});
    for (const bool with_names : {false, true}) {
        std::size_t names = 0;
        for (const auto& each :
             figures::evidence_tables(season.season(), season.reckoned(), report.basis, with_names)) {
            CHECK_FALSE(each.about.empty());
            for (const auto& row : each.rows) {
                REQUIRE(row.size() == each.columns.size());
                for (const auto& cell : row)
                    if (const auto* text = std::get_if<std::string>(&cell);
                        text != nullptr && *text == "Hesper Quillan")
                        ++names;
            }
        }
        CHECK(names == (with_names ? 1 : 0));
    }
}
