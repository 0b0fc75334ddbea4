#include "ledger/load_season.hpp"
#include "season_view.hpp"

#include "figures/audit_figures.hpp"

#include <fmt/format.h>

namespace tarewell::cli {

const ledger::award& season_view::award() const {
    if (!season.the_award) throw ledger::input_error("the ledger has no award yet; take in award.csv first");
    return *season.the_award;
}

season_view view(const context& with, std::optional<ledger::entry_no> as_of) {
    auto file = with.open();
    const ledger::ledger_file::snapshot one_state{file};
    const auto seq = as_of ? file.head_at(*as_of).seq : file.head().seq;
    auto season = ledger::load_season(file, seq);
    auto reckoning = reconcile::reckon(season);
    return {std::move(file), seq, std::move(season), std::move(reckoning)};
}

quarter_seen view_quarter(const context& with, const std::string& text, std::optional<ledger::entry_no> as_of) {
    const auto quarter = quarter_named(text);
    auto file = with.open();
    const ledger::ledger_file::snapshot one_state{file};
    const auto seq = as_of ? file.head_at(*as_of).seq : figures::as_of_quarter(file, quarter);
    auto made = figures::view_quarter(file, quarter, seq);
    figures::add_statistics(made.report, made.season, made.reckoning);
    return {{std::move(file), seq, std::move(made.season), std::move(made.reckoning)}, std::move(made.report)};
}

quantity::quarter quarter_named(const std::string& text) {
    const auto quarter = quantity::read_quarter(text);
    if (!quarter) throw ledger::input_error(fmt::format("'{}' is not a quarter; write it as 2026-Q3", text));
    return *quarter;
}

} // namespace tarewell::cli
