#include "desk/season_view.hpp"

#include "desk/view_figures.hpp"
#include "figures/audit_figures.hpp"
#include "figures/quick_view.hpp"

#include <fmt/format.h>

namespace tarewell::desk {

namespace {

/// Contact details may be erased meanwhile: all kinds are loaded from one state of the file.
records::season load(const ledger::ledger_file& file, entry_no as_of) {
    const ledger::ledger_file::snapshot one_state{file};
    return ledger::quick_season(file, as_of);
}

} // namespace

season_view::season_view(ledger::ledger_file of, std::optional<entry_no> asked)
    : looked_at{std::move(of)}, as_of{upto(asked)}, season{load(file, as_of)}, reckoning{reconcile::reckon(season)} {}

const records::award& season_view::award() const {
    if (!season.the_award) throw records::input_error("the ledger has no award yet; take in award.csv first");
    return *season.the_award;
}

std::vector<figures::restatement> quarter_seen::adjusted() const {
    return figures::adjustments(seen.file, seen.season, seen.reckoning, report.basis);
}

namespace {

quarter_seen view(ledger::ledger_file of, const std::string& text, std::optional<entry_no> as_of,
                  ledger::people whose) {
    const auto period = period_named(text);
    looked_at at{std::move(of)};
    auto [seq, made] = [&] {
        const ledger::ledger_file::snapshot one_state{at.file};
        const auto upto = as_of ? at.upto(as_of) : figures::as_of_period(at.file, period);
        return std::pair{upto, figures::quick_view(at.file, period, upto, whose)};
    }();
    figures::add_statistics(made.report, made.season, made.reckoning);
    return {season_view{std::move(at), seq, std::move(made.season), std::move(made.reckoning)}, std::move(made.report)};
}

} // namespace

quarter_seen view_quarter(ledger::ledger_file of, const std::string& quarter, std::optional<entry_no> as_of) {
    return view(std::move(of), quarter, as_of, ledger::people::named);
}

quarter_seen view_figures(ledger::ledger_file of, const std::string& quarter, std::optional<entry_no> as_of) {
    return view(std::move(of), quarter, as_of, ledger::people::unnamed);
}

quantity::quarter quarter_named(const std::string& text) {
    const auto quarter = quantity::read_quarter(text);
    if (!quarter) throw records::input_error(fmt::format("'{}' is not a quarter; write it as 2026-Q3", text));
    return *quarter;
}

quantity::period period_named(const std::string& text) {
    const auto period = quantity::read_period(text);
    if (!period) throw records::input_error(fmt::format("'{}' is no period; {}", text, quantity::periods_in_words));
    return *period;
}

} // namespace tarewell::desk
