#include "records/complaints.hpp"

#include <fmt/format.h>

#include <stdexcept>

namespace tarewell::records {
namespace {

std::size_t place_of(kind which) { return static_cast<std::size_t>(which); }

} // namespace

void excuses::excuse(const row& refused) { ids_[place_of(refused.which)].emplace(refused[info(refused.which).key[0]]); }

void excuses::excuse_all(kind which) { all_[place_of(which)] = true; }

bool excuses::covers(kind which, std::string_view id) const {
    const auto& ids = ids_[place_of(which)];
    return all_[place_of(which)] || (!ids.empty() && ids.contains(std::string{id}));
}

bool excuses::any(kind which) const { return all_[place_of(which)] || !ids_[place_of(which)].empty(); }

void complaints::say(std::string_view column, std::string what, std::string right) {
    good_ = false;
    tell_(column, std::move(what), std::move(right));
}

void complaints::agrees(std::string_view column, std::string_view before, std::string_view record) {
    if (written(column) == before) return;
    say(column, fmt::format("{} differs from '{}' in an earlier row of {}", quoted(written(column)), before, record),
        "every row of one record says the same; to change it use: tarewell correct");
}

void complaints::together(std::string_view first, std::string_view second) {
    if (given(first) == given(second)) return;
    const auto empty = given(first) ? second : first;
    say(empty, fmt::format("is empty although {} is given", given(first) ? first : second),
        fmt::format("{} and {} come together", first, second));
}

void complaints::undefined(std::string_view column, kind of, std::string_view or_else) {
    if (refused_.covers(of, written(column))) return not_to_blame();
    say(column, fmt::format("no {} {} is defined", info(of).called(), quoted(written(column))),
        fmt::format("take in its row of {}.csv first, or mend the id{}", info(of).file, or_else));
}

std::string quoted(std::string_view text) { return fmt::format("'{}'", text); }

bool is_within(const std::function<std::int64_t()>& worked_out, std::int64_t most) {
    try {
        return worked_out() <= most;
    } catch (const std::overflow_error&) {
        return false;
    }
}

} // namespace tarewell::records
