#pragma once
#include "base_season.hpp"
#include "terminal.hpp"
#include "figures/closing.hpp"

#include <algorithm>
#include <set>

namespace tarewell::tests {

/// The base season with its second quarter closed when asked, and changes made short.
class closed_basin : public base_season {
  public:
    using entries = std::vector<records::entry_no>;
    static constexpr quantity::quarter spring{2026, 2}, summer{2026, 3}, autumn{2026, 4};

    closed_basin() { take_all(); }
    records::entry_no close(quantity::quarter quarter = spring,
                           const std::map<std::string, std::string>& accepted = {}) {
        return figures::close_period(ledger(), quarter, {"Maud Ellery", "Dell Rourke", "Odile Fenn"}, {accepted},
                                      around());
    }
    entries record(records::kind which, const intake::named_values& values) {
        return intake::record(ledger(), which, values, around()).entries;
    }
    entries correct(records::kind which, const std::vector<std::string>& key, const intake::named_values& changes) {
        return intake::correct(ledger(), which, key, changes, "misread label", around()).entries;
    }
    entries take_out(records::kind which, const std::vector<std::string>& key) {
        return intake::void_record(ledger(), which, key, "entered twice", around()).entries;
    }
    entries cost(const std::string& id, const std::string& date, const std::string& amount,
                 const std::string& fund = "grant") {
        return record(records::kind::cost, {{"cost", id},
                                           {"date", date},
                                           {"category", "travel"},
                                           {"description", "van"},
                                           {"amount", amount},
                                           {"fund", fund}});
    }
    /// A figure's text as the ledger stands, or as it stood.
    std::string figure(const std::string& name, quantity::quarter quarter = spring, records::entry_no as_of = 0) {
        const auto view = figures::view_period(ledger(), quarter, as_of == 0 ? head() : as_of);
        return figures::text_of(view.report.find(name)->value);
    }
    std::vector<figures::restatement> restated(quantity::quarter quarter = spring) {
        return figures::restate(ledger(), quarter, head());
    }
    terminal at_the_desk() { return terminal{ledger().path()}; }
};

/// The restatement of a figure, or null.
inline const figures::restatement* find(const std::vector<figures::restatement>& all, const std::string& figure) {
    const auto found = std::find_if(all.begin(), all.end(), [&](const auto& each) { return each.figure == figure; });
    return found == all.end() ? nullptr : &*found;
}

inline std::set<std::string> names_in(const std::vector<figures::restatement>& all) {
    std::set<std::string> names;
    for (const auto& each : all)
        names.insert(each.figure);
    return names;
}

/// "filed -> now (difference) by 41 43, own rows"
inline std::string said(const std::vector<figures::restatement>& all, const std::string& figure) {
    const auto* each = find(all, figure);
    if (each == nullptr) return "not restated";
    std::string text = fmt::format("{} -> {} ({}) by", figures::text_of(each->filed), figures::text_of(each->now),
                                   figures::text_of(each->difference()));
    for (const auto& entry : each->moved_by)
        text += fmt::format(" {}", entry.seq);
    return text + (each->exactly ? ", own rows" : ", what it stands on");
}

} // namespace tarewell::tests
