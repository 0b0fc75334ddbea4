#include "office/state.hpp"

namespace tarewell::office {

const desk::season_view& kept_ledger::season() {
    if (!season_ || season_->head.seq != file_.head().seq) season_.emplace(opened());
    return *season_;
}

const desk::quarter_seen& kept_ledger::quarter(const std::string& name) {
    const auto head = file_.head().seq;
    std::erase_if(quarters_, [&](const auto& each) { return each.second.seen.head.seq != head; });
    const auto known = quarters_.find(name);
    if (known != quarters_.end()) return known->second;
    return quarters_.emplace(name, desk::view_quarter(opened(), name)).first->second;
}

} // namespace tarewell::office
