#include "desk/acts.hpp"
#include "desk/growers.hpp"
#include "desk/labels.hpp"
#include "desk/maps.hpp"
#include "desk/remains.hpp"
#include "intake/undo.hpp"
#include "office/views.hpp"

#include <fmt/format.h>

namespace tarewell::office {
namespace {

std::int64_t act_named(const std::string& text) {
    if (text.empty() || text.size() > 15 || text.find_first_not_of("0123456789") != std::string::npos)
        throw records::input_error(fmt::format("'{}' is no act's number; choose one under Files", text));
    return std::stoll(text);
}

} // namespace

std::int64_t act_of(const ledger::ledger_file& file, records::entry_no entry) {
    std::int64_t act = 0;
    if (entry > 0) file.for_each_journal_entry(entry, entry, [&](const auto& each) { act = each.act; });
    return act;
}

response show_acts(state& of, const call& /*from*/) {
    constexpr std::size_t most = 40;
    auto acts = value::array();
    for (const auto& each : desk::last_acts(desk::looked_at{of.kept.opened()}, most))
        acts.push_back({{"act", each.number},
                        {"at", each.at.substr(0, 10) + " " + each.at.substr(11, 5)},
                        {"who", each.who},
                        {"command", each.command},
                        {"source", each.source.empty() ? value{} : value{each.source}},
                        {"records", each.records},
                        {"undone", each.undone.empty() ? value{} : value{each.undone}},
                        {"takeable", each.undone != "all"}});
    value data = value::object();
    put_list(data, "acts", std::move(acts));
    return page(of, "acts", "What was imported and recorded", std::move(data));
}

response show_undo(state& of, const call& from) {
    const auto act = act_named(from.query.text("act"));
    const auto plan = intake::plan_undo(of.kept.file(), {act});
    constexpr std::size_t most = 200;
    auto records = value::array();
    for (const auto& each : plan.records)
        if (records.list()->size() < most)
            records.push_back(fmt::format("{} {}", desk::label_of(records::info(each.which)), each.key));
    value data{{"act", act},
               {"count", desk::counted(plan.records.size(), "record", "records")},
               {"more", plan.records.size() > most ? value{plan.records.size() - most} : value{}},
               {"can", plan.standing.empty() && !plan.records.empty()}};
    put_list(data, "records", std::move(records));
    put_list(data, "standing", plan.standing);
    return page(of, "undo", "Take it back", std::move(data));
}

response take_undo(state& of, const call& from) {
    const auto change =
        intake::undo(of.kept.file(), {act_named(from.sent.text("act"))}, from.sent.text("why"), of.around);
    if (change.entries.empty()) return message(of, 200, "Nothing was changed", {change.note});
    auto lines = desk::filed_without(of.kept.file(), of.kept.season().season, change.entries);
    const auto remains = desk::what_remains(of.kept.file(), change.entries.front() - 1);
    lines.insert(lines.end(), remains.begin(), remains.end());
    lines.insert(lines.begin(), fmt::format("{} voided, by entries {} to {}. They stay in the journal; the same file "
                                            "imported again brings them back.",
                                            desk::counted(change.entries.size(), "record is", "records are"),
                                            change.entries.front(), change.entries.back()));
    return message(of, 200, "Taken back", lines);
}

response take_merge(state& of, const call& from) {
    const auto told = desk::merge_growers(of.kept.file(), from.sent.text("kept"), from.sent.text("gone"),
                                          from.sent.text("why"), of.around);
    return message(of, 200, "One person under two ids", lines_of(told.text()));
}

} // namespace tarewell::office
