#include "figures/soundness.hpp"
#include "ledger/load_season.hpp"

#include "figures/closing.hpp"
#include "intake/intake.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "ledger/verify.hpp"

#include <fmt/format.h>

#include <sstream>

namespace tarewell::figures {
namespace {

using findings = std::vector<std::string>;

void check_chain(const ledger::ledger_file& file, findings& found) {
    for (const auto& each : ledger::verify(file))
        found.push_back(each.entry == 0 ? each.what : fmt::format("entry {} {}", each.entry, each.what));
}

void check_rules(const ledger::ledger_file& file, findings& found) {
    for (const auto& each : intake::broken_rules(file))
        found.push_back(fmt::format("{}: {}; {}", each.column, each.what, each.right));
}

void check_closings(const ledger::ledger_file& file, findings& found) {
    const auto season = ledger::load_season(file, file.head().seq);
    for (const auto& closing : season.closings) {
        const auto name = quantity::text_of(closing.period);
        if (ledger::hex(file.head_at(closing.as_of).hash) != closing.head_hash)
            found.push_back(fmt::format("the closing of {} names another head than entry {} has", name, closing.as_of));
        const auto differ = filed_otherwise(closing.figures, view_period(file, closing.period, closing.as_of).report);
        if (!differ.empty())
            found.push_back(
                fmt::format("the figures of {} worked out again differ from those filed: {}", name, differ));
    }
}

void check_documents(const ledger::ledger_file& file, findings& found) {
    for (const auto& each : intake::check_documents(file))
        found.push_back(
            fmt::format("entry {}: the document '{}' of {} {}", each.entry, each.name, each.record, each.what));
}

} // namespace

std::string filed_otherwise(const std::string& filed, const report& now) {
    std::istringstream lines{filed};
    std::string line, names;
    bool any = false;
    while (std::getline(lines, line)) {
        const auto name = line.substr(0, line.find('='));
        const auto* figure = now.find(name);
        any = true;
        if (figure == nullptr || name + "=" + text_of(figure->value) != line)
            names += (names.empty() ? "" : ", ") + name;
    }
    return any ? names : "all of them";
}

std::vector<std::string> unsound_in(const ledger::ledger_file& file) {
    findings found;
    // What cannot even be read is a finding, and the other checks still say what they can.
    for (auto* const check : {check_chain, check_rules, check_closings, check_documents}) {
        try {
            check(file, found);
        } catch (const records::busy_error&) {
            throw;
        } catch (const std::bad_alloc&) {
            throw;
        } catch (const std::exception& failure) {
            found.emplace_back(failure.what());
        }
    }
    return found;
}

} // namespace tarewell::figures
