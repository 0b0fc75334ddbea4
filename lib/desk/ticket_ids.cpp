#include "desk/ticket_ids.hpp"

#include "ledger/latest.hpp"
#include "records/letters.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <charconv>

namespace tarewell::desk {
namespace {

/// A number in the letters that stand before it, as "T" and "0043".
struct numbered_id {
    std::string before, digits;
    std::uint64_t number = 0;
};

bool is_digit(char c) { return c >= '0' && c <= '9'; }

/// The id's letters and digits alone; an O or l among digits is the digit that it looks like. No digits: none, or more
/// than a number holds.
numbered_id read_id(const std::string& id) {
    const auto letters = records::letters_of(id);
    const auto first =
        static_cast<std::size_t>(std::find_if(letters.begin(), letters.end(), is_digit) - letters.begin());
    numbered_id read{letters.substr(0, first), letters.substr(first)};
    if (read.before.size() > 1 && read.before.ends_with('o')) { // TO043
        read.before.pop_back();
        read.digits.insert(0, 1, '0');
    }
    for (auto& each : read.digits)
        each = each == 'o' ? '0' : each == 'i' || each == 'l' ? '1' : each;
    const auto* end = read.digits.data() + read.digits.size();
    const auto done = std::from_chars(read.digits.data(), end, read.number);
    if (done.ec != std::errc{} || done.ptr != end) read.digits.clear();
    return read;
}

bool is_one_number(const numbered_id& a, const numbered_id& b) {
    return !a.digits.empty() && !b.digits.empty() && a.number == b.number &&
           (a.before == b.before || a.before.empty() || b.before.empty());
}

std::string sorted(std::string digits) {
    std::sort(digits.begin(), digits.end());
    return digits;
}

/// How a number past the next one may be a slip for it; empty where it is too far from it, or a leap of some tickets.
std::string slip_for(const numbered_id& next, const numbered_id& typed) {
    if (typed.number <= next.number) return {};
    const bool only_the_last =
        typed.digits.size() == next.digits.size() &&
        typed.digits.substr(0, typed.digits.size() - 1) == next.digits.substr(0, next.digits.size() - 1);
    if (only_the_last) return {};
    if (sorted(typed.digits) == sorted(next.digits)) return "has the same digits in another order";
    return records::letters_changed(typed.digits, next.digits, 1) <= 1 ? "is one digit away from it" : std::string{};
}

struct written_ticket {
    records::entry_no entry = 0;
    std::string id, scale;
};

/// In order of entry.
std::vector<written_ticket> latest_tickets(const ledger::ledger_file& file, records::entry_no head) {
    constexpr std::int64_t most = 200;
    std::vector<written_ticket> found;
    ledger::for_each_latest(file, records::kind::ticket, head, most, [&](const ledger::stored_row& each) {
        found.push_back({each.entry, std::string{each.values["ticket"]}, std::string{each.values["scale"]}});
    });
    std::reverse(found.begin(), found.end());
    return found;
}

} // namespace

std::string doubt_of_number(const ledger::ledger_file& file, records::entry_no head, const records::season& of,
                            const records::ticket& made) {
    constexpr std::size_t a_run = 3; // tickets that go on by number
    constexpr std::uint64_t left_out_at_once = 3;
    const auto typed = read_id(made.id);
    if (typed.digits.empty()) return {};
    numbered_id last;
    std::size_t in_pattern = 0;
    bool goes_on = false;
    const auto& scale = of.at(made.scale).id.text();
    for (const auto& each : latest_tickets(file, head)) {
        if (each.entry == made.entry) continue;
        const auto other = read_id(each.id);
        if (is_one_number(typed, other))
            return fmt::format("Tickets {} and {} are one number written in two ways: are they one ticket?", each.id,
                               made.id);
        if (other.digits.empty() || other.before != typed.before) continue;
        // Scales may take their numbers from one run.
        goes_on = goes_on || (other.number < typed.number && typed.number - other.number <= left_out_at_once);
        if (each.scale != scale) continue;
        ++in_pattern;
        if (last.digits.empty() || other.number > last.number) last = other;
    }
    if (goes_on || in_pattern < a_run) return {};
    auto next = last;
    ++next.number;
    next.digits = fmt::format("{:0{}}", next.number, last.digits.size());
    const auto slip = slip_for(next, typed);
    if (slip.empty()) return {};
    return fmt::format("Ticket {} is not the next of scale {}, whose last number is {}: {} is, and {} {}. Look at the "
                       "paper.",
                       made.id, scale, last.digits, next.digits, typed.digits, slip);
}

} // namespace tarewell::desk
