#include "desk/look_up.hpp"

#include "ledger/load_season.hpp"
#include "records/complaints.hpp"
#include "records/owned_row.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::desk {

using namespace records; // NOLINT

look_up::look_up(const ledger::ledger_file& of, season_at_hand at_hand) : file_{of}, at_hand_{std::move(at_hand)} {}

const season& look_up::season() {
    if (at_hand_) return at_hand_();
    if (!season_) season_ = ledger::load_season(file_, file_.head().seq);
    return *season_;
}

bool look_up::is_there(kind which, const std::string& id, bool ever) const {
    if (which == kind::grower && id == unknown_grower) return true;
    bool there = false;
    const auto& of = info(which);
    file_.for_each_with(
        which, of.columns[of.key[0]].name, id, file_.head().seq, [&](const auto&) { there = true; },
        ever ? ledger::ledger_file::which_rows::ever : ledger::ledger_file::which_rows::in_force);
    return there;
}

std::string look_up::meant(kind which, const std::string& said, bool ever, bool needed) {
    if (said.empty() || is_there(which, said, ever)) return said;
    const auto of = find(season(), which, said);
    if (of.matches.size() == 1) {
        const auto& one = of.matches.front();
        told.push_back(fmt::format("{} {}", called(which), one.in_words()));
        return one.id;
    }
    if (!of.matches.empty()) throw input_error(several_found(which, said, of.matches));
    if (needed) throw input_error(none_found(which, said, of.near));
    return said;
}

std::string look_up::id_of(kind which, const std::string& said) {
    auto id = meant(which, said, false, true);
    if (which != kind::grower) return id;
    std::map<std::string, std::string> merged;
    file_.for_each(kind::merge, file_.head().seq, [&](const ledger::stored_row& stored) {
        merged.emplace(stored.values["grower"], stored.values["into"]);
    });
    for (auto into = merged.find(id); into != merged.end(); into = merged.find(id)) {
        told.push_back(fmt::format("grower {} counts as {}", id, into->second));
        id = into->second;
    }
    return id;
}
std::string look_up::id_or_text(kind which, const std::string& said) { return meant(which, said, false, false); }

void look_up::put_ids(kind which, intake::named_values& values) {
    owned_row given{which};
    const auto& of = info(which);
    for (const auto& [name, text] : values)
        if (const auto place = of.find(name)) given.set(*place, text);
    tell_words(given.values());
    for (const auto& column : of.columns) {
        const auto named = kind_named(column, given.values());
        if (!named) continue;
        auto& text = values[std::string{column.name}];
        try {
            text = id_or_text(*named, text);
        } catch (const input_error& several) {
            throw refused{{fmt::format("--{}: {}", column.name, several.what())}};
        }
    }
    const auto processor = values.find("processor");
    if (which == kind::shipment && processor != values.end()) ask_about_processor(processor->second);
}

/// A processor is known by its name alone: a new one is taken as it stands, and what it may be a slip of is told.
void look_up::ask_about_processor(const std::string& said) {
    bool known = said.empty();
    file_.for_each(kind::shipment, file_.head().seq,
                   [&](const auto& stored) { known = known || stored.values["processor"] == said; });
    if (known) return;
    const auto of = find_processor(season(), said);
    for (const auto& each : of.matches.empty() ? of.near : of.matches)
        told.push_back(fmt::format("processor {} is new here; is it {}?", quoted(said), each.id));
}

void look_up::put_ids(kind which, std::vector<std::string>& key) {
    const auto& of = info(which);
    for (std::size_t i = 0; i < key.size() && i < of.key_columns; ++i) {
        const auto& column = of.columns[of.key[i]];
        if (i == 0)
            key[i] = meant(which == kind::acceptance ? kind::shipment : which, key[i], true, false);
        else if (column.names)
            key[i] = id_or_text(*column.names, key[i]);
    }
}

refused look_up::with_what_is_near(const refused& refusal) {
    auto lines = refusal.lines();
    for (auto& line : lines) {
        const auto put = [&](std::string_view before, kind which, std::string_view end, std::string_view advice) {
            const auto from = line.find(before);
            if (from == std::string::npos) return;
            const auto begins = from + before.size();
            const auto ends = line.find(end, begins);
            if (ends == std::string::npos || line.find(advice, ends) == std::string::npos) return;
            if (things_of(season(), which).empty()) return; // nothing is near: it must be defined
            const auto said = line.substr(begins, ends - begins);
            line = line.substr(0, from) + none_found(which, said, find(season(), which, said).near);
        };
        for (const auto& each : recorded_kinds()) {
            put(fmt::format("no {} '", each.called()), each.which, "' is defined; ", "");
            put(fmt::format("the ledger holds no {} ", each.name), each.which, "; ", "mend the id");
        }
    }
    return refused{std::move(lines)};
}

} // namespace tarewell::desk
