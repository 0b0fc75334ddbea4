#include "desk/echo.hpp"
#include "desk/next_record.hpp"
#include "desk/remains.hpp"
#include "intake/intake.hpp"
#include "names.hpp"
#include "write_and_tell.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

using records::kind_info;

using options = record_how;

/// One flag for each column; `required` only where a record is new.
void add_columns(const command& to, const kind_info& kind, options& into, bool recording) {
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        const auto& column = kind.columns[i];
        const std::string name{column.name};
        auto given = to.handed_on(
            "--" + name, [&into, name](const std::string& value) { into.given[name] = value; }, what_it_takes(column));
        if (recording && column.required) given.required();
    }
}

void tell(const intake::change_summary& change, const char* verb, std::ostream& out) {
    if (!change.entries.empty())
        out << fmt::format("{} by {} {}\n", verb, change.entries.size() == 1 ? "entry" : "entries",
                           fmt::join(change.entries, ", "));
    if (!change.note.empty()) out << change.note << '\n';
}

/// "REGISTRATION [COVER]"
std::string key_words(const kind_info& kind) {
    std::string words;
    for (const char c : kind.columns[kind.key[0]].name)
        words += static_cast<char>(std::toupper(static_cast<unsigned char>(c)));
    return words;
}

std::string key_names(const kind_info& kind) {
    std::string names{kind.columns[kind.key[0]].name};
    if (kind.key_columns == 2) names += fmt::format(" and {}", kind.columns[kind.key[1]].name);
    return names;
}

/// A ticket's net follows from a corrected gross or tare: it is proposed, and changed only if the person says so.
void propose_net(options& how, const kind_info& kind, const ledger::ledger_file& file, context& with) {
    if (kind.which != records::kind::ticket) return;
    desk::typed_values before;
    file.for_each_with(kind.which, "ticket", how.key[0], file.head().seq, [&](const ledger::stored_row& stored) {
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            before[std::string{kind.columns[i].name}] = stored.values[i];
    });
    const auto net = before.empty() ? std::string{} : desk::net_reworked(before, how.given);
    if (net.empty()) return;
    const auto said =
        fmt::format("Gross less tare is {} now, and the net of {} is {}.", net, how.key[0], before["net"]);
    if (!with.ask)
        with.err << fmt::format("{} Where the paper says so, correct it too: --net {}\n", said, net);
    else if (with.ask(fmt::format("{} Correct the net to {} too?", said, net)))
        how.given["net"] = net;
}

} // namespace

bool write_and_tell(const record_how& how, records::kind which, const char* verb, context& with,
                    ledger::ledger_file& file,
                    const std::function<intake::change_summary(const intake::agreement&)>& write) {
    std::optional<desk::echo> told;
    const auto agree = [&](const std::vector<records::entry_no>& entries) {
        told = desk::echo_of(file, which, entries);
        return !told->blocks();
    };
    const bool asks = with.ask && !how.yes;
    auto change = write(asks ? agree : intake::agreement{});
    if (change.held_back) {
        with.err << told->text();
        for (const auto& line : told->understood)
            with.err << line << '\n';
        if (!with.ask("This blocks a closing. Record it all the same?")) {
            with.err << "nothing was changed\n";
            with.exit = findings;
            return false;
        }
        change = write({});
        told = desk::echo{told->understood, {}, {}}; // its doubts were told
    }
    tell(change, verb, with.out);
    if (change.entries.empty()) return true;
    if (!told) told = desk::echo_of(file, which, change.entries); // written: others need not wait for the season
    with.err << told->text();
    for (const auto& line : told->understood)
        with.out << line << '\n';
    return true;
}

bool record_and_tell(const record_how& how, const kind_info& kind, context& with, ledger::ledger_file& file) {
    auto given = how.given;
    desk::look_up names{file};
    names.put_ids(kind.which, given);
    tell_found(names, with);
    return write_and_tell(how, kind.which, "recorded", with, file, [&](const intake::agreement& agree) {
        return desk::with_names(names, [&] {
            return intake::record(file, kind.which, given, with.writing(), how.once, {}, intake::sight::neighbours,
                                  agree);
        });
    });
}

void tell_filed(const ledger::ledger_file& file, const std::vector<records::entry_no>& entries, context& with) {
    if (entries.empty()) return;
    for (const auto& line : desk::filed_without(file, entries))
        with.err << line << '\n';
}

std::string what_it_takes(const records::column& column) {
    using enum records::column_type;
    switch (column.type) {
    case id:
        return !column.names                           ? "id"
               : *column.names == records::kind::cover ? "id of a registration"
                                                       : fmt::format("id of a {}", records::info(*column.names).name);
    case date:
        return "date, 2026-05-14";
    case time:
        return "time, 08:30";
    case amount:
    case credit:
        return "amount, 1250.00";
    case count:
        return "whole number from 1";
    case month:
        return "month, 1 to 12";
    case word:
        return fmt::format("{}", fmt::join(column.words, ", "));
    case text:
        return "text";
    default:
        return "number";
    }
}

void add_record(const command& program, context& with) {
    auto record = program.add("record", "record one row: a ticket, a receipt, a cost, ...");
    record.wants_subcommand();
    for (const auto* each : with.kinds_to_set_up()) {
        const auto& kind = *each;
        auto sub = record.add(std::string{kind.name}, fmt::format("a row of {}.csv", kind.file));
        auto& how = program.keep<options>();
        add_columns(sub, kind, how, true);
        sub.value("--once", how.once, "a key of your own: the same key again changes nothing");
        sub.flag("--yes", how.yes, "don't ask, though it blocks a closing");
        sub.does([&how, &kind, &with] {
            auto file = with.open();
            record_and_tell(how, kind, with, file);
        });
    }
}

void add_correct(const command& program, context& with) {
    auto correct = program.add("correct", "correct a record; what it replaces stays in the journal");
    correct.wants_subcommand();
    for (const auto* each : with.kinds_to_set_up()) {
        const auto& kind = *each;
        auto sub = correct.add(std::string{kind.name}, "named by its " + key_names(kind));
        auto& how = program.keep<options>();
        sub.value(key_words(kind), how.key, key_names(kind)).required().words(1, 2);
        add_columns(sub, kind, how, false);
        sub.value("--why", how.reason, "why, in a sentence").required();
        sub.value("--once", how.once, "a key of your own: the same key again changes nothing");
        sub.flag("--yes", how.yes, "don't ask, though it blocks a closing");
        sub.does([&how, &kind, &with] {
            auto file = with.open();
            desk::look_up names{file};
            names.put_ids(kind.which, how.key);
            names.put_ids(kind.which, how.given);
            tell_found(names, with);
            propose_net(how, kind, file, with);
            write_and_tell(how, kind.which, "corrected", with, file, [&](const intake::agreement& agree) {
                return desk::with_names(names, [&] {
                    return intake::correct(file, kind.which, how.key, how.given, how.reason, with.writing(), how.once,
                                           intake::sight::neighbours, agree);
                });
            });
        });
    }
}

void add_void(const command& program, context& with) {
    auto voiding = program.add("void", "void a record: it counts no more, and stays in the journal");
    voiding.wants_subcommand();
    for (const auto* each : with.kinds_to_set_up()) {
        const auto& kind = *each;
        auto sub = voiding.add(std::string{kind.name}, "named by its " + key_names(kind));
        auto& how = program.keep<options>();
        sub.value(key_words(kind), how.key, key_names(kind)).required().words(1, 2);
        sub.value("--why", how.reason, "why, in a sentence").required();
        sub.value("--once", how.once, "a key of your own: the same key again changes nothing");
        sub.does([&how, &kind, &with] {
            auto file = with.open();
            desk::look_up names{file};
            names.put_ids(kind.which, how.key);
            tell_found(names, with);
            const auto change = desk::with_names(names, [&] {
                return intake::void_record(file, kind.which, how.key, how.reason, with.writing(), how.once);
            });
            tell(change, "voided", with.out);
            if (change.entries.empty()) return;
            for (const auto& line : desk::what_remains(file, change.entries.front() - 1))
                with.err << line << '\n';
            tell_filed(file, change.entries, with);
        });
    }
}

} // namespace tarewell::cli
