#include "desk/due.hpp"
#include "office/views.hpp"
#include "reconcile/flags.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::office {
namespace {

using reconcile::flag_level;
using records::entry_no;

/// Flags of a level by code, with their number and meaning.
value counted_flags(const std::vector<reconcile::flag>& flags, flag_level level) {
    auto counted = value::array();
    for (const auto& code : reconcile::flag_codes()) {
        if (code.level != level) continue;
        const auto count =
            std::count_if(flags.begin(), flags.end(), [&](const auto& each) { return each.code == code.code; });
        if (count > 0) counted.push_back({{"code", code.code}, {"count", count}, {"meaning", code.meaning}});
    }
    return counted;
}

quantity::day today(const state& of) { return quantity::day_of(of.around.now().substr(0, 10)); }

value sites_of(const desk::season_view& seen, quantity::day on) {
    auto sites = value::array();
    for (const auto& each : desk::stock_of_sites(seen, on))
        sites.push_back(site_for_page(each, on, seen.unit()));
    return sites;
}

/// What is waited for; of each sort the most pressing few, and how many more there are.
value due_for_page(const desk::season_view& seen, quantity::day on) {
    constexpr std::size_t most = 5;
    auto groups = value::array();
    for (const auto& group : desk::waited_for(seen, on)) {
        auto items = value::array();
        for (const auto& each : group.items)
            if (each.is_pressing && items.list()->size() < most) items.push_back(each.sentence);
        const auto more = group.items.size() - items.list()->size();
        groups.push_back({{"heading", group.heading},
                          {"count", std::to_string(group.items.size())},
                          {"items", std::move(items)},
                          {"more", more == 0 ? value{} : value{more}}});
    }
    return groups;
}

/// What an entry says and where it leads.
value entry_line(const desk::season_view& seen, const ledger::journal_entry& entry) {
    value line{{"at", entry.at.substr(0, 10) + " " + entry.at.substr(11, 5)},
               {"who", entry.who},
               {"deed", entry.deed == "void"      ? "voided"
                        : entry.deed == "correct" ? "corrected"
                                                  : "recorded"},
               {"sentence", entry.kind},
               {"link", nullptr}};
    const auto* kind = records::find_kind(entry.kind);
    if (kind == nullptr || kind->internal) return line;
    seen.file.with_entry(
        kind->which, entry.deed == "void" ? *entry.replaces : entry.seq, [&](const ledger::stored_row& stored) {
            line["sentence"] = fmt::format("{} {}", kind->name, records::key_for_people(stored.values));
            const auto second = kind->key_columns == 2 ? stored.values[kind->key[1]] : std::string_view{};
            line["link"] = record_link(kind->name, stored.values[kind->key[0]], second);
        });
    return line;
}

value last_entries(const desk::season_view& seen) {
    constexpr entry_no most = 12;
    std::vector<ledger::journal_entry> entries;
    seen.file.for_each_journal_entry(std::max<entry_no>(1, seen.head.seq - most + 1), seen.head.seq,
                                     [&](const auto& each) { entries.push_back(each); });
    auto lines = value::array();
    for (auto each = entries.rbegin(); each != entries.rend(); ++each)
        lines.push_back(entry_line(seen, *each));
    return lines;
}

} // namespace

response show_today(state& of, const call& /*from*/) {
    const auto& seen = of.kept.season();
    value data = value::object();
    const auto flags = seen.season.the_award ? of.kept.flags() : std::vector<reconcile::flag>{};
    put_list(data, "blocks", counted_flags(flags, flag_level::blocks));
    put_list(data, "questions", counted_flags(flags, flag_level::question));
    put_list(data, "sites", seen.season.the_award ? sites_of(seen, today(of)) : value::array());
    data["unit"] = seen.season.the_award ? seen.unit() : "lb";
    put_list(data, "due", seen.season.the_award ? due_for_page(seen, today(of)) : value::array());
    put_list(data, "entries", last_entries(seen));
    return page(of, "today", "Today", std::move(data));
}

response show_who(state& of, const call& /*from*/) {
    const auto& suggested = of.around.who.empty() ? of.who_suggested : of.around.who;
    return page(of, "who", "Who makes the entries?", {{"suggested", suggested}});
}

response take_who(state& of, const call& from) {
    const auto who = from.sent.text("who");
    if (who.find_first_not_of(' ') == std::string::npos || who.size() > 100 ||
        std::any_of(who.begin(), who.end(), [](char c) { return static_cast<unsigned char>(c) < ' '; }))
        throw records::input_error("that is no name; write it in one line of at most 100 letters");
    of.around.who = who;
    return sent_on("/");
}

} // namespace tarewell::office
