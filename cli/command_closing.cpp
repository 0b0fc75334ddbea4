#include "closing.hpp"
#include "render/json.hpp"
#include "season_view.hpp"
#include "text_table.hpp"
#include "who.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>

namespace tarewell::cli {
namespace {

using json = nlohmann::ordered_json;

struct close_options {
    std::string quarter;
    figures::closing_signatures signatures;
    std::vector<std::string> accepted;
};

void run_close(const close_options& how, context& with) {
    std::map<std::string, std::string> accepted;
    for (const auto& each : how.accepted) {
        const auto equals = each.find('=');
        const auto code = each.substr(0, equals);
        if (equals == std::string::npos || !reconcile::stops_closing(code))
            throw ledger::input_error(
                fmt::format("--accept {}: write a flag that stops closing and the reason, such as "
                            "--accept net-as-printed='the yard confirms it'; see: tarewell flags --codes",
                            each));
        accepted[code] = each.substr(equals + 1);
    }
    auto file = with.open();
    const auto quarter = quarter_named(how.quarter);
    const auto entry = figures::close_quarter(file, quarter, how.signatures, accepted, writing(with));
    with.out << fmt::format("closed {} by entry {}; its report stands as of entry {}\nhead {}\n", how.quarter, entry,
                            entry - 1, ledger::hex(file.head_at(entry - 1).hash));
}

json restatement_json(const figures::restatement& each) {
    json entries = json::array();
    for (const auto& entry : each.moved_by)
        entries.push_back({{"entry", entry.seq},
                           {"at", entry.at},
                           {"who", entry.who},
                           {"command", entry.command},
                           {"why", entry.reason.empty() ? json(nullptr) : json(entry.reason)}});
    return {{"figure", each.figure},
            {"unit", each.unit},
            {"filed", render::json_of(each.filed)},
            {"now", render::json_of(each.now)},
            {"difference", render::json_of(each.difference())},
            {"entries", std::move(entries)},
            {"own_rows", each.exactly}};
}

/// As people read it: reals to six digits.
std::string shown(const figures::value& of) {
    const auto* real = std::get_if<figures::real>(&of);
    return real == nullptr ? figures::text_of(of) : fmt::format("{:.6g}", *real);
}

void print_restatements(const std::string& quarter, const std::vector<figures::restatement>& moved, std::ostream& out) {
    if (moved.empty()) {
        out << quarter << " stands as filed: no figure moved\n";
        return;
    }
    text_table table{{"figure", "filed", "now", "difference", "unit"}};
    for (const auto& each : moved)
        table.add({each.figure, shown(each.filed), shown(each.now), shown(each.difference()), each.unit});
    table.print(out);
    std::map<ledger::entry_no, std::pair<ledger::journal_entry, std::string>> entries;
    for (const auto& each : moved)
        for (const auto& entry : each.moved_by) {
            auto& [known, figures] = entries[entry.seq];
            known = entry;
            figures += (figures.empty() ? "" : ", ") + each.figure + (each.exactly ? "" : " (by what it stands on)");
        }
    out << "\nwhat moved them:\n";
    for (const auto& [seq, found] : entries)
        out << fmt::format("  entry {}, {}, {}: {} {}{}\n    {}\n", seq, found.first.at, found.first.who,
                           found.first.command, found.first.effective,
                           found.first.reason.empty() ? "" : " (" + found.first.reason + ")", found.second);
}

struct restate_options {
    std::string quarter;
    std::optional<ledger::entry_no> as_of;
    bool json = false;
};

void run_restate(const restate_options& how, context& with) {
    const auto quarter = quarter_named(how.quarter);
    const auto file = with.open();
    const ledger::ledger_file::snapshot one_state{file};
    const auto as_of = how.as_of ? file.head_at(*how.as_of).seq : file.head().seq;
    const auto moved = figures::restate(file, quarter, as_of);
    if (!moved.empty()) with.exit = findings;
    if (!how.json) return print_restatements(how.quarter, moved, with.out);
    json list = json::array();
    for (const auto& each : moved)
        list.push_back(restatement_json(each));
    with.out << json{{"quarter", how.quarter},
                     {"filed_as_of", figures::as_of_quarter(file, quarter)},
                     {"as_of", as_of},
                     {"figures", std::move(list)}}
                    .dump(2)
             << '\n';
}

} // namespace

void add_closing(const command& quarter, context& with) {
    auto close = quarter.add("close", "close a quarter: from then on its report can be printed again, byte for byte");
    auto& how = quarter.keep<close_options>();
    close.value("QUARTER", how.quarter, "such as 2026-Q3").required();
    close.value("--prepared-by", how.signatures.prepared_by, "who prepared the report").required();
    close.value("--reviewed-by", how.signatures.reviewed_by, "who reviewed it").required();
    close.value("--certified-by", how.signatures.certified_by, "who certifies it").required();
    close.value("--accept", how.accepted, "FLAG='why': close over a flag that stops closing").one_at_a_time().many();
    close.does([&how, &with] { run_close(how, with); });
    auto restate = quarter.add("restate", "what changed since a quarter was closed (exit 1 when anything did)");
    auto& again = quarter.keep<restate_options>();
    restate.value("QUARTER", again.quarter, "such as 2026-Q3").required();
    restate.value("--as-of", again.as_of, "as the ledger stood after this entry");
    restate.flag("--json", again.json, "for machines");
    restate.does([&again, &with] { run_restate(again, with); });
}

} // namespace tarewell::cli
