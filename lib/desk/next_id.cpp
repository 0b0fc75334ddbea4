#include "desk/next_id.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>
#include <map>

namespace tarewell::desk {
namespace {

using namespace records; // NOLINT

struct pattern {
    std::size_t ids = 0;
    std::uint64_t last = 0;
    std::size_t digits = 1; ///< of the last, zeros in front among them
};

/// The place where an id's number begins; npos where it ends with none, or with more than a number holds.
std::size_t number_in(const std::string& id) {
    const auto last_letter = id.find_last_not_of("0123456789");
    const auto from = last_letter == std::string::npos ? 0 : last_letter + 1;
    constexpr std::size_t most_digits = 15;
    return from == id.size() || id.size() - from > most_digits ? std::string::npos : from;
}

bool was_in_use(const ledger::ledger_file& file, kind which, const std::string& id) {
    bool there = false;
    const auto& of = info(which);
    file.for_each_with(
        which, of.columns[of.key[0]].name, id, file.head().seq, [&](const auto&) { there = true; },
        ledger::ledger_file::which_rows::ever);
    return there;
}

std::vector<std::string> ids_of(const ledger::ledger_file& file, kind which) {
    std::vector<std::string> ids;
    const auto key = info(which).key[0];
    file.for_each(which, file.head().seq,
                  [&](const ledger::stored_row& stored) { ids.emplace_back(stored.values[key]); });
    return ids;
}

std::string first_unused(const ledger::ledger_file& file, kind which, std::vector<std::string>& ids,
                         const std::string& first) {
    auto id = id_after(ids, first);
    while (was_in_use(file, which, id)) {
        ids.push_back(id);
        id = id_after(ids, first);
    }
    return id;
}

} // namespace

std::string id_after(const std::vector<std::string>& ids, const std::string& first) {
    std::map<std::string, pattern> patterns;
    for (const auto& id : ids) {
        const auto from = number_in(id);
        if (from == std::string::npos || from == 0) continue;
        auto& of = patterns[id.substr(0, from)];
        std::uint64_t number = 0;
        std::from_chars(id.data() + from, id.data() + id.size(), number);
        ++of.ids;
        if (number >= of.last) of.last = number, of.digits = id.size() - from;
    }
    const auto most = std::max_element(patterns.begin(), patterns.end(),
                                       [](const auto& a, const auto& b) { return a.second.ids < b.second.ids; });
    if (most == patterns.end()) return first;
    return fmt::format("{}{:0{}}", most->first, most->second.last + 1, most->second.digits);
}

std::string next_id(const ledger::ledger_file& file, kind which, const std::string& first) {
    auto ids = ids_of(file, which);
    return first_unused(file, which, ids, first);
}

std::vector<std::string> next_bundle_ids(const ledger::ledger_file& file, const std::string& registration,
                                         std::size_t count) {
    std::size_t by_registration = 0, all = 0;
    std::vector<std::string> ids;
    file.for_each(kind::bundle, file.head().seq, [&](const ledger::stored_row& stored) {
        const auto& id = ids.emplace_back(stored.values["bundle"]);
        ++all;
        if (id == fmt::format("{}-{}", stored.values["registration"], stored.values["number"])) ++by_registration;
    });
    std::vector<std::string> made;
    const bool goes_on = by_registration * 2 < all;
    for (std::size_t i = 1; i <= count; ++i) {
        auto id = fmt::format("{}-{}", registration, i);
        if (goes_on || was_in_use(file, kind::bundle, id)) {
            id = first_unused(file, kind::bundle, ids, id);
            ids.push_back(id);
        }
        made.push_back(std::move(id));
    }
    return made;
}

} // namespace tarewell::desk
