#include "figures/flags.hpp"
#include "ledger/load_season.hpp"
#include "ledger/quick_season.hpp"
#include "office/state.hpp"

namespace tarewell::office {
namespace {

/// More entries are read with the rest sooner than one by one.
constexpr records::entry_no most_to_follow = 5'000;

bool is_same(const ledger::journal_head& a, const ledger::journal_head& b) {
    return a.seq == b.seq && a.hash == b.hash;
}

} // namespace

/// False where another file was put in the ledger's place, too.
bool kept_ledger::goes_on_from(const ledger::journal_head& before, const ledger::journal_head& now) const {
    return before.seq < now.seq && now.seq - before.seq <= most_to_follow && is_same(file_.head_at(before.seq), before);
}

kept_ledger::reckoned_season kept_ledger::read_ahead() const {
    const auto head = file_.head();
    if (season_ && goes_on_from(season_->head, head)) {
        auto season = season_->season;
        if (ledger::follow(season, file_, season_->head.seq + 1, head.seq)) {
            auto reckoned = reconcile::reckon(season);
            return {head, std::move(season), std::move(reckoned)};
        }
    }
    auto season = ledger::quick_season(file_, head.seq);
    auto reckoned = reconcile::reckon(season);
    return {head, std::move(season), std::move(reckoned)};
}

void kept_ledger::show(reckoned_season&& read) {
    if (!season_)
        season_.emplace(desk::looked_at{opened()}, read.head.seq, std::move(read.season), std::move(read.reckoned));
    else {
        season_->season = std::move(read.season);
        season_->reckoning = std::move(read.reckoned);
    }
    season_->head = read.head;
    season_->as_of = read.head.seq;
    flags_.reset();
}

const desk::season_view& kept_ledger::season() {
    const ledger::ledger_file::snapshot one_state{file_}; // contact details may be erased meanwhile
    const auto head = file_.head();
    if (!season_ || !is_same(season_->head, head))
        show(ahead_ && is_same(ahead_->head, head) ? std::move(*ahead_) : read_ahead());
    ahead_.reset();
    return *season_;
}

const std::vector<reconcile::flag>& kept_ledger::flags() {
    const auto& seen = season();
    if (!flags_) flags_ = figures::flags_of(seen.season, seen.reckoning);
    return *flags_;
}

desk::echo kept_ledger::echo_of(records::kind which, const std::vector<records::entry_no>& entries) {
    if (file_.head().seq > desk::most_entries_told_at_once) return desk::echo_of(file_, which, entries);
    ahead_ = read_ahead();
    return desk::echo_of(file_, ahead_->season, ahead_->reckoned, which, entries);
}

const desk::quarter_seen& kept_ledger::quarter(const std::string& name) {
    const auto head = file_.head().seq;
    std::erase_if(quarters_, [&](const auto& each) { return each.second.seen.head.seq != head; });
    const auto known = quarters_.find(name);
    if (known != quarters_.end()) return known->second;
    return quarters_.emplace(name, desk::view_quarter(opened(), name)).first->second;
}

} // namespace tarewell::office
