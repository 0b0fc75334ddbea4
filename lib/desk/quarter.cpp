#include "desk/quarter.hpp"

#include "figures/flags.hpp"
#include "figures/period_note.hpp"

#include <algorithm>
#include <map>

namespace tarewell::desk {
namespace {

using quantity::text_of;

/// The entries that moved figures, and which.
void say_what_moved(answer& made, const std::vector<figures::restatement>& moved) {
    std::map<entry_no, std::pair<ledger::journal_entry, std::string>> entries;
    for (const auto& each : moved)
        for (const auto& entry : each.moved_by) {
            auto& [known, names] = entries[entry.seq];
            known = entry;
            names += (names.empty() ? "" : ", ") + each.figure + (each.exactly ? "" : " (by what it stands on)");
        }
    made.say("\nwhat moved them:\n");
    for (const auto& [seq, found] : entries)
        made.say("  entry {}, {}, {}: {} {}{}\n    {}\n", seq, found.first.at, found.first.who, found.first.command,
                 found.first.effective, found.first.reason.empty() ? "" : " (" + found.first.reason + ")",
                 found.second);
}

value entries_of(const figures::restatement& of) {
    auto entries = value::array();
    for (const auto& entry : of.moved_by)
        entries.push_back({{"entry", entry.seq},
                           {"at", entry.at},
                           {"who", entry.who},
                           {"command", entry.command},
                           {"why", entry.reason.empty() ? value{} : value{entry.reason}}});
    return entries;
}

/// A period's days; throws input_error for what is none, and without an award.
quantity::span_of_days days_of(const season_view& seen, const std::string& period) {
    (void)seen.award();
    return seen.season.days_of(period_named(period));
}

value stage(const reconcile::at_stage& of) { return {{"bundles", of.bundles}, {"estimate", of.estimate}}; }

value parts_of(const reconcile::side_by_side& line, const records::season& season) {
    auto parts = value::array();
    for (const auto& part : line.parts)
        parts.push_back({{"bundle", season.at(part.bundle).id.text()},
                         {"estimate", part.estimate},
                         {"spot_weight", part.spot},
                         {"share", part.share}});
    return parts;
}

} // namespace

value value_of(const figures::value& of) {
    if (const auto* count = std::get_if<std::int64_t>(&of)) return *count;
    if (const auto* real = std::get_if<figures::real>(&of)) return *real;
    if (std::holds_alternative<std::monostate>(of)) return nullptr;
    return figures::text_of(of);
}

value figures_for_machines(const figures::report& of) {
    auto list = value::array();
    for (const auto& figure : of.figures) {
        value each{
            {"name", figure.name}, {"value", value_of(figure.value)}, {"unit", figure.unit}, {"evidence", figure.rows}};
        if (!figure.reason.empty()) each["reason"] = figure.reason;
        list.push_back(std::move(each));
    }
    return {{"quarter", text_of(of.basis.period)},
            {"from", of.basis.days.from},
            {"to", of.basis.days.to},
            {"as_of", of.basis.as_of},
            {"closed", of.basis.closed},
            {"figures", std::move(list)}};
}

answer figures_of(const quarter_seen& of) {
    const auto& on = of.report.basis;
    answer made;
    made.data = figures_for_machines(of.report);
    made.say("{}  {} to {}, as of entry {}{}\n", text_of(on.period), text_of(on.days.from), text_of(on.days.to),
             on.as_of, on.closed ? ", closed" : "");
    if (const auto note = figures::period_note(of.seen.season, on); !note.empty()) made.say("{}\n", note);
    made.say("\n");
    for (const auto& figure : of.report.figures) {
        auto text = figures::text_of(figure.value);
        if (const auto* real = std::get_if<figures::real>(&figure.value))
            text = fmt::format("{:.{}f}", *real, figure.unit == "$/ton" ? 2 : 4);
        made.say("{:<28}{:>14} {:<8}  {}\n", figure.name, text.empty() ? "-" : text, figure.unit,
                 figure.reason.empty() ? figure.meaning : figure.reason);
    }
    return made;
}

answer restatements_of(const looked_at& at, const std::string& named, std::optional<entry_no> asked) {
    const auto period = period_named(named);
    const auto as_of = at.upto(asked);
    const auto moved = figures::restate(at.file, period, as_of);
    table restated{{"figure", "=unit", "filed", "now", "difference", "unit=", "=entries", "=own_rows"}};
    for (const auto& each : moved) {
        const auto both = [&](const figures::value& of) { return cell{figures::shown(of, each.unit), value_of(of)}; };
        restated.add({each.figure, each.unit, both(each.filed), both(each.now), both(each.difference()), each.unit,
                      cell{"", entries_of(each)}, each.exactly});
    }
    answer made;
    made.found = !moved.empty();
    made.data = {{"quarter", named},
                 {"filed_as_of", figures::as_of_period(at.file, period)},
                 {"as_of", as_of},
                 {"figures", restated.rows()}};
    if (moved.empty()) {
        made.say("{} stands as filed: no figure moved\n", named);
        return made;
    }
    made.show(restated);
    say_what_moved(made, moved);
    return made;
}

answer flag_codes() {
    answer made;
    for (const auto& each : reconcile::flag_codes())
        made.say("{:<26}{:<16}{}\n", each.code, name_of(each.level), each.meaning);
    return made;
}

answer flags_of(const season_view& seen, const std::string& quarter, const std::string& code) {
    auto flags = figures::flags_of(seen.season, seen.reckoning);
    if (!quarter.empty()) flags = reconcile::flags_in(std::move(flags), days_of(seen, quarter));
    if (!code.empty()) std::erase_if(flags, [&](const auto& flag) { return flag.code != code; });
    answer made;
    made.found = !flags.empty();
    auto list = value::array();
    std::string_view before;
    for (const auto& flag : flags) {
        auto rows = value::array();
        for (const auto& row : flag.rows)
            rows.push_back({{"kind", records::info(row.which).name}, {"entry", row.entry}});
        list.push_back({{"code", flag.code},
                        {"subject", flag.subject},
                        {"date", flag.on},
                        {"sentence", flag.sentence},
                        {"level", name_of(reconcile::level_of(flag.code))},
                        {"stops_closing", reconcile::blocks_closing(flag.code)},
                        {"rows", std::move(rows)}});
        if (flag.code != before)
            made.say("{}{} ({})\n", before.empty() ? "" : "\n", flag.code, name_of(reconcile::level_of(flag.code)));
        before = flag.code;
        made.say("  {}  {}\n", text_of(flag.on), flag.sentence);
    }
    made.data = {{"as_of", seen.as_of}, {"flags", std::move(list)}};
    made.say("{}{}; flagged rows count in every figure\n", flags.empty() ? "" : "\n",
             counted(flags.size(), "flag", "flags"));
    return made;
}

answer reconciled(const season_view& seen, const std::string& by, const std::string& quarter) {
    const bool by_bale = by == "bale";
    std::optional<quantity::span_of_days> days;
    if (!quarter.empty()) days = days_of(seen, quarter);
    const auto lines = reconcile::reconcile_by(*reconcile::read_grouping(by), seen.season, seen.reckoning, days);
    const auto table_by = [&](const std::string& first) {
        return table{{by + "=" + first, by_bale ? "pressed at=name" : "name", "registered", "received", "rejected",
                      "baled", "weighed", "estimate=", "scale=scale_weight", "difference", "ratio", "=reason",
                      "=weighed_on", "=bundles"}};
    };
    const auto add = [&](table& to, const reconcile::side_by_side& line, bool with_parts) {
        const auto at = [](const reconcile::at_stage& of) { return cell{std::to_string(of.bundles), stage(of)}; };
        const auto ratio = line.ratio();
        auto name = cell::only_if(!line.name.empty(), line.name);
        name.text = line.name;
        to.add({line.id, std::move(name), at(line.registered), at(line.received), at(line.rejected), at(line.baled),
                at(line.weighed), line.weighed.estimate, line.scale_weight, line.difference(),
                cell{ratio ? fmt::format("{:.3f}", *ratio) : "-", ratio},
                cell::only_if(!ratio, "nothing with an estimate was weighed"),
                cell::only_if(with_parts, line.weighed_on),
                cell::only_if(with_parts, with_parts ? parts_of(line, seen.season) : value{})});
    };
    auto shown = table_by(by), total = table_by("of");
    for (const auto& line : lines)
        add(shown, line, by_bale);
    answer made;
    made.data = {{"by", by}, {"unit", seen.unit()}, {"as_of", seen.as_of}};
    if (!quarter.empty()) made.data["quarter"] = quarter;
    made.data["lines"] = shown.rows();
    const auto sum = reconcile::total_of(lines);
    add(shown, sum, false);
    add(total, sum, false);
    made.data["total"] = total.rows().list()->front();
    made.say("Bundles registered, received, rejected, baled and weighed; estimate and scale of what was "
             "weighed, in {}.\nRatio is scale over estimate: below 1, claims ran high.\n\n",
             seen.unit());
    made.show(shown);
    if (by_bale && !quarter.empty())
        made.say("\nBales produced or weighed in the quarter; only those weighed in it count in its figures.\n");
    return made;
}

} // namespace tarewell::desk
