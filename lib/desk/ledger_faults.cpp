#include "desk/ledger_faults.hpp"

#include "ledger/database_url.hpp"
#include "ledger/ledger.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <new>

namespace tarewell::desk {
namespace {

/// What tells a ledger from others: the hash of its first entry holds who made it and when.
struct identity {
    std::string path;
    ledger::digest first{};
    ledger::journal_head head;
};

identity identity_of(const std::string& path) {
    const auto file = ledger::ledger_file::open(path);
    identity made{path, {}, file.head()};
    bool has_award = false;
    file.for_each(records::kind::award, made.head.seq, [&](const ledger::stored_row&) { has_award = true; });
    if (!has_award)
        throw records::input_error(
            fmt::format("{0} has no award yet; import it with: tarewell --ledger {0} intake award award.csv", path));
    made.first = file.head_at(1).hash;
    return made;
}

/// Why two ledgers that begin alike can't be summed.
std::string how_alike(const identity& earlier, const identity& later) {
    const auto& [shorter, longer] =
        earlier.head.seq <= later.head.seq ? std::tie(earlier, later) : std::tie(later, earlier);
    const auto then = ledger::ledger_file::open(longer.path).head_at(shorter.head.seq).hash;
    if (then != shorter.head.hash)
        return fmt::format("{} and {} begin with the same entries and then part: one is a copy that went on by itself, "
                           "and what both hold would count twice; name one of them",
                           earlier.path, later.path);
    if (shorter.head.seq == longer.head.seq)
        return earlier.path == later.path
                   ? fmt::format("{} is named twice; name it once", later.path)
                   : fmt::format("{} and {} are the same ledger (fingerprint {}); name one of them", earlier.path,
                                 later.path, ledger::hex(later.head.hash));
    return fmt::format(
        "{} is a copy of {} as it stood at entry {}; leave it out, since what it holds would count twice", shorter.path,
        longer.path, shorter.head.seq);
}

} // namespace

void ledger_fault::raise() const {
    switch (is) {
    case kind::ledger:
        throw records::ledger_error(text);
    case kind::busy:
        throw records::busy_error(text);
    case kind::io:
        throw records::io_error(text);
    case kind::input:
        break;
    }
    throw records::input_error(text);
}

std::optional<ledger_fault> fault_in(const std::vector<std::string>& paths, std::size_t which,
                                     const std::function<void()>& body) {
    const auto& path = paths[which];
    const auto named = [&](ledger_fault::kind is, const std::exception& thrown) {
        const std::string said{thrown.what()};
        if (said.find(path) != std::string::npos) return ledger_fault{is, said};
        const auto name = ledger::is_in_database(path) ? fmt::format("ledger {} of those named", which + 1) : path;
        return ledger_fault{is, name + ": " + said};
    };
    try {
        body();
    } catch (const records::input_error& thrown) {
        return named(ledger_fault::kind::input, thrown);
    } catch (const records::busy_error& thrown) {
        return named(ledger_fault::kind::busy, thrown);
    } catch (const records::io_error& thrown) {
        return named(ledger_fault::kind::io, thrown);
    } catch (const std::bad_alloc&) {
        throw;
    } catch (const std::exception& thrown) {
        return named(ledger_fault::kind::ledger, thrown);
    }
    return std::nullopt;
}

void refuse_unfit(const std::vector<std::string>& paths) {
    std::vector<ledger_fault> faults;
    std::vector<identity> known;
    for (std::size_t i = 0; i < paths.size(); ++i) {
        auto fault = fault_in(paths, i, [&] {
            auto made = identity_of(paths[i]);
            const auto alike = std::find_if(known.begin(), known.end(),
                                            [&](const identity& each) { return each.first == made.first; });
            if (alike != known.end()) throw records::input_error(how_alike(*alike, made));
            known.push_back(std::move(made));
        });
        if (fault) faults.push_back(std::move(*fault));
    }
    if (faults.empty()) return;
    if (faults.size() == 1) faults.front().raise();
    std::vector<std::string> lines;
    for (auto& each : faults)
        lines.push_back(std::move(each.text));
    throw records::refused(std::move(lines));
}

} // namespace tarewell::desk
