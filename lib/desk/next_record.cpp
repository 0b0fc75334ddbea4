#include "desk/next_record.hpp"

#include "desk/next_id.hpp"
#include "quantity/day.hpp"
#include "quantity/decimal.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <array>
#include <deque>

namespace tarewell::desk {
namespace {

using records::column;
using records::column_type;

constexpr std::size_t last_looked_at = 25; // records of the kind, for what they usually say

bool is_digit(char c) { return c >= '0' && c <= '9'; }

} // namespace

std::string net_of(const typed_values& values) {
    const auto gross = values.find("gross"), tare = values.find("tare");
    if (gross == values.end() || tare == values.end()) return {};
    const auto a = quantity::read_decimal(gross->second), b = quantity::read_decimal(tare->second);
    if (a.fault != quantity::decimal_fault::none || b.fault != quantity::decimal_fault::none) return {};
    const int scale = std::max(a.value.scale, b.value.scale);
    const auto whole = [&](const quantity::decimal& of) {
        return static_cast<std::int64_t>(of.mantissa * quantity::power_of_ten(scale - of.scale));
    };
    const auto net = whole(a.value) - whole(b.value);
    return net < 0 ? std::string{} : quantity::shortest_text({net, scale});
}

std::string net_reworked(const typed_values& before, const typed_values& after) {
    auto now = before;
    for (const auto& [name, value] : after)
        now[name] = value;
    const auto changed = [&](const std::string& name) {
        return now[name] != (before.count(name) > 0 ? before.at(name) : "");
    };
    if ((!changed("gross") && !changed("tare")) || changed("net") || !now["as_printed"].empty()) return {};
    auto net = net_of(now);
    const auto known = quantity::read_decimal(now["net"]);
    const bool same = known.fault == quantity::decimal_fault::none && quantity::shortest_text(known.value) == net;
    return same ? std::string{} : net;
}

bool is_said_again(const column& of) {
    static constexpr std::array<std::string_view, 5> kept{"weigher", "received_by", "driver", "carrier", "category"};
    return of.type == column_type::word || of.type == column_type::date ||
           (of.names && (*of.names == records::kind::site || *of.names == records::kind::scale)) ||
           std::find(kept.begin(), kept.end(), of.name) != kept.end();
}

next_record::next_record(const ledger::ledger_file& file, records::kind which, std::string today)
    : file_{file}, kind_{records::info(which)}, today_{std::move(today)} {
    std::deque<typed_values> last;
    file.for_each(which, file.head().seq, [&](const ledger::stored_row& stored) {
        auto& values = last.emplace_back();
        for (std::size_t i = 0; i < kind_.columns.size(); ++i)
            if (!stored.values[i].empty()) values.emplace(kind_.columns[i].name, stored.values[i]);
        if (last.size() > last_looked_at) last.pop_front();
    });
    for (const auto& each : last)
        for (const auto& [name, value] : each)
            given_.insert(name);
    if (!last.empty()) last_ = last.back();
    last_["date"] = today_; // of another day than the ledger's last
}

std::vector<const column*> next_record::asked(bool all) const {
    std::vector<const column*> columns;
    for (const auto& each : kind_.columns)
        if (all || each.required || given_.count(std::string{each.name}) > 0) columns.push_back(&each);
    return columns;
}

std::string next_record::proposed(const column& of, const typed_values& so_far) const {
    const bool is_key = of.name == kind_.columns[kind_.key[0]].name;
    if (is_key && !of.names && of.type == column_type::id) return next_id(file_, kind_.which, {});
    if (of.name == "net")
        if (auto net = net_of(so_far); !net.empty()) return net;
    if (const auto scale = so_far.find("scale");
        kind_.which == records::kind::ticket && of.name == "unit" && scale != so_far.end())
        if (auto unit = unit_of_scale(scale->second); !unit.empty()) return unit;
    if (!is_said_again(of)) return {};
    const auto last = last_.find(std::string{of.name});
    return last == last_.end() ? std::string{} : last->second;
}

std::string next_record::unit_of_scale(const std::string& scale) const {
    std::string unit;
    file_.for_each_with(records::kind::scale, "scale", scale, file_.head().seq,
                        [&](const ledger::stored_row& stored) { unit = stored.values["unit"]; });
    return unit;
}

void next_record::took(const typed_values& values) {
    last_ = values;
    for (const auto& [name, value] : values)
        if (!value.empty()) given_.insert(name);
}

std::string day_as_typed(const std::string& text, const std::string& today, const std::string& about) {
    const auto now = quantity::read_day(today);
    if (text == "today") return today;
    if (text == "yesterday" && now) return quantity::text_of(*now - date::days{1});
    const auto base = quantity::read_day(about) ? about : today;
    std::vector<unsigned> numbers(1);
    for (const char c : text) {
        if (is_digit(c) && numbers.back() < 1000)
            numbers.back() = numbers.back() * 10 + static_cast<unsigned>(c - '0');
        else if ((c == '-' || c == '/') && numbers.size() < 2)
            numbers.push_back(0);
        else
            return text;
    }
    if (text.empty() || base.size() < 10) return text;
    const auto made = numbers.size() == 2 ? fmt::format("{}-{:02}-{:02}", base.substr(0, 4), numbers[0], numbers[1])
                                          : fmt::format("{}-{:02}", base.substr(0, 7), numbers[0]);
    return quantity::read_day(made) ? made : text;
}

} // namespace tarewell::desk
