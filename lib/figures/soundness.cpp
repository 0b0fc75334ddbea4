#include "figures/soundness.hpp"

#include "figures/closing.hpp"
#include "intake/intake.hpp"
#include "ledger/keeping.hpp"
#include "ledger/verify.hpp"

#include <fmt/format.h>


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
        const auto name = quantity::text_of(closing.quarter);
        if (ledger::hex(file.head_at(closing.as_of).hash) != closing.head_hash)
            found.push_back(fmt::format("the closing of {} names another head than entry {} has", name, closing.as_of));
        if (filed_text(view_quarter(file, closing.quarter, closing.as_of).report) != closing.figures)
            found.push_back(fmt::format("the figures of {} worked out again differ from those filed", name));
    }
}

void check_documents(const ledger::ledger_file& file, findings& found) {
    for (const auto& each : ledger::check_documents(file))
        found.push_back(fmt::format("entry {}: the document '{}' of {} {}", each.entry, each.name, each.record, each.what));
}

} // namespace

std::vector<std::string> unsound_in(const ledger::ledger_file& file) {
    findings found;
    // What cannot even be read is a finding, and the other checks still say what they can.
    for (auto* const check : {check_chain, check_rules, check_closings, check_documents}) {
        try {
            check(file, found);
        } catch (const ledger::busy_error&) {
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
