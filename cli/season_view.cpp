#include "season_view.hpp"

#include <fmt/format.h>

namespace tarewell::cli {

const ledger::award& season_view::award() const {
    if (!season.the_award)
        throw ledger::input_error("the ledger has no award yet; take in award.csv first");
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

quantity::quarter quarter_named(const std::string& text) {
    const auto quarter = quantity::read_quarter(text);
    if (!quarter)
        throw ledger::input_error(fmt::format("'{}' is not a quarter; write it as 2026-Q3", text));
    return *quarter;
}

} // namespace tarewell::cli
