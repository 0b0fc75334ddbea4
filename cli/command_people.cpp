#include "desk/grower_history.hpp"
#include "desk/growers.hpp"
#include "desk/journal.hpp"
#include "desk/listing.hpp"
#include "intake/keeping.hpp"
#include "ledger/whole_file.hpp"
#include "names.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

#include <ostream>

namespace tarewell::cli {
namespace {

void run_export(const std::string& to, context& with) {
    std::string text;
    const auto count = desk::csv_of_records(desk::looked_at{with.open()}, records::info(records::kind::grower), {},
                                            [&](const auto& line) { text += line; });
    ledger::write_whole(to, text);
    with.out << fmt::format("wrote {} growers with their contact details to {}; it is personal, keep it so\n", count,
                            to);
}

struct erase_options {
    std::string grower, why;
};

/// What is erased is gone for good: by anything but its id only where a person says yes.
std::string grower_to_erase(const ledger::ledger_file& file, const std::string& said, context& with) {
    desk::look_up names{file};
    const auto grower = names.id_or_text(records::kind::grower, said);
    if (names.told.empty()) return grower; // an id, or one that the refusal names
    if (!with.ask)
        throw records::input_error(
            fmt::format("{}: details are erased for good; name the grower by the id {}", names.told.front(), grower));
    if (with.ask(fmt::format("Erase the details of {} for good?", names.told.front()))) return grower;
    with.err << "nothing was changed\n";
    with.exit = findings;
    return {};
}

void run_erase(const erase_options& how, context& with) {
    auto file = with.open();
    const auto grower = grower_to_erase(file, how.grower, with);
    if (grower.empty()) return;
    const auto entries = desk::erase_person(file, grower, how.why, with.writing());
    if (entries.empty())
        with.out << "nothing was left to erase\n";
    else
        with.out << fmt::format("erased the contact details of {} by {} {}; ids and weights stay. Backups and exported "
                                "files made before still hold them: see to those too\n",
                                grower, entries.size() == 1 ? "entry" : "entries", fmt::join(entries, ", "));
}

struct merge_options {
    std::string kept, gone, why;
};

/// A record's key in the place of what it was called.
std::string key_meant(const ledger::ledger_file& file, const std::string& kind, const std::string& said,
                      const context& with) {
    const auto* which = records::find_kind(kind);
    if (which == nullptr) return said;
    desk::look_up names{file};
    std::vector<std::string> key{said};
    names.put_ids(which->which, key);
    tell_found(names, with);
    return key[0];
}

struct history_options {
    std::string grower;
    std::vector<std::string> also;
};

void run_history(const history_options& how, context& with) {
    auto file = with.open();
    const auto grower = id_meant(file, records::kind::grower, how.grower, with);
    with.print(desk::grower_history(desk::season_view{std::move(file)}, grower, how.also));
}

struct attach_options {
    std::string kind, key, file;
};

void run_attach(const attach_options& how, context& with) {
    auto file = with.open();
    const auto key = key_meant(file, how.kind, how.key, with);
    const auto entry = intake::attach(file, how.kind, key, how.file, with.writing());
    with.out << (entry == 0 ? "that record has that document already; nothing was changed\n"
                            : fmt::format("attached by entry {}\n", entry));
}

} // namespace

void add_growers(const command& program, context& with) {
    auto sub = program.add(
        "growers",
        "growers: their history, export contact details, erase them on request, merge two ids of one person");
    sub.wants_subcommand();
    auto exporting = sub.add("export", "write growers with contact details as CSV");
    auto& to = program.keep<std::string>();
    exporting.value("FILE", to, "where to write").required();
    exporting.does([&to, &with] { run_export(to, with); });
    auto history = sub.add("history", "what a grower brought, claimed and weighed, award by award");
    auto& past = program.keep<history_options>();
    history.value("GROWER", past.grower, "the grower, by id or name").required();
    history.value("--also", past.also, "another award's ledger; may be given several times").many().one_at_a_time();
    history.flag("--json", with.json, "JSON output");
    history.does([&past, &with] { run_history(past, with); });
    auto merge = sub.add("merge", "one person under two ids: what is registered for GONE counts as KEPT's from now on");
    auto& two = program.keep<merge_options>();
    merge.value("KEPT", two.kept, "the id that stays, or the grower's name").required();
    merge.value("GONE", two.gone, "the other id of the same person").required();
    merge.value("--why", two.why, "how that is known, in a sentence").required();
    merge.flag("--json", with.json, "JSON output");
    merge.does([&two, &with] {
        auto file = with.open();
        with.print(desk::merge_growers(file, two.kept, two.gone, two.why, with.writing()));
    });
    auto erase = sub.add("erase", "erase a grower's name, farm, email and phone for good");
    auto& how = program.keep<erase_options>();
    erase.value("GROWER", how.grower, "the grower, by id").required();
    erase.value("--why", how.why, "why, in a sentence").required();
    erase.does([&how, &with] { run_erase(how, with); });
}

void add_document(const command& program, context& with) {
    auto sub = program.add("document", "source documents: scans and photos kept by their hash");
    sub.wants_subcommand();
    auto attach = sub.add("attach", "keep a copy of a file with a record");
    auto& how = program.keep<attach_options>();
    attach.value("KIND", how.kind, "such as ticket").required();
    attach.value("KEY", how.key, "the record's id").required();
    attach.value("FILE", how.file, "the scan or photo").required();
    attach.does([&how, &with] { run_attach(how, with); });
    auto list = sub.add("list", "documents attached, or records without one (then exit 1)");
    auto& missing = program.keep<bool>();
    list.flag("--missing", missing, "costs, tickets, rejects and acceptances without a document");
    list.flag("--json", with.json, "JSON output");
    list.does([&missing, &with] { with.print(desk::documents_of(desk::looked_at{with.open()}, missing)); });
}

} // namespace tarewell::cli
