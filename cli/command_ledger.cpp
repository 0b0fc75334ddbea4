#include "desk/journal.hpp"
#include "desk/maps.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "ledger/move.hpp"
#include "names.hpp"
#include "render/evidence_folder.hpp"

#include <filesystem>
#include <ostream>

namespace tarewell::cli {
namespace {

void run_history(std::vector<std::string> record, context& with) {
    auto file = with.open();
    if (const auto* kind = record.size() < 2 ? nullptr : records::find_kind(record[0])) {
        desk::look_up names{file};
        std::vector<std::string> key{record.begin() + 1, record.end()};
        names.put_ids(kind->which, key);
        tell_found(names, with);
        std::copy(key.begin(), key.end(), record.begin() + 1);
    }
    with.print(desk::history_of(desk::looked_at{std::move(file)}, record));
}

void add_looking(const command& sub, context& with) {
    auto history = sub.add("history", "the journal, or the revisions of one record");
    auto& record = sub.keep<std::vector<std::string>>();
    history.value("RECORD", record, "a kind and its id, such as: ticket T0001").words(0, 3);
    auto& by_act = sub.keep<bool>();
    history.flag("--acts", by_act, "an act a line: what was done, when, and how many entries it made");
    history.flag("--json", with.json, "JSON output");
    history.does([&record, &by_act, &with] {
        if (by_act) return with.print(desk::acts_of(desk::looked_at{with.open()}));
        run_history(record, with);
    });
    auto check = sub.add("check", "hold everything against everything (exit 1 when something is wrong)");
    check.flag("--json", with.json, "JSON output");
    check.does([&with] { with.print(desk::soundness_of(desk::looked_at{with.open()})); });
    auto head = sub.add("head", "the ledger's fingerprint (SHA-256), which stands for everything recorded so far");
    auto& as_of = sub.keep<std::optional<records::entry_no>>();
    head.value("--as-of", as_of, "as the ledger stood after this entry");
    head.flag("--json", with.json, "JSON output");
    head.does([&as_of, &with] { with.print(desk::head_of(desk::looked_at{with.open()}, as_of)); });
}

void run_move(const std::string& from, const std::string& to, context& with) {
    const auto head = ledger::move_ledger(from, to);
    with.out << fmt::format("carried {} entries from {} to {} and verified them there; fingerprint {}, as before\n"
                            "the old one is as it was: set it aside, so that nobody enters there\n",
                            head.seq, from, to, ledger::hex(head.hash));
}

void add_keeping(const command& sub, context& with) {
    auto backup = sub.add("backup", "copy the ledger, also while it is in use");
    auto& to = sub.keep<std::string>();
    backup.value("FILE", to, "a new file").required();
    backup.does([&to, &with] {
        const auto file = with.open();
        const auto head = ledger::back_up(file, to);
        with.out << fmt::format("backed up {} entries to {}; fingerprint {}\n", head.seq, to, ledger::hex(head.hash));
        if (std::filesystem::exists(intake::documents_folder(file)))
            with.out << "copy the folder of documents too: " << intake::documents_folder(file) << '\n';
    });
    auto restore = sub.add("restore", "put a backup in the ledger's place; never over newer entries");
    auto& from = sub.keep<std::string>();
    restore.value("BACKUP", from, "the backup's file").required();
    restore.does([&from, &with] {
        const auto kept = ledger::restore(from, with.path());
        with.out << fmt::format("restored {} from {}\n", with.path(), from);
        if (!kept.empty()) with.out << "the damaged file is kept as " << kept << '\n';
    });
    auto move = sub.add("move", "carry a ledger to a new place, file or database, and prove that all of it came over");
    auto& old_place = sub.keep<std::string>();
    auto& new_place = sub.keep<std::string>();
    move.value("FROM", old_place, "the ledger: its file, or postgresql://HOST/DATABASE").required();
    move.value("TO", new_place, "a new file, or an empty database (postgresql://HOST/DATABASE)").required();
    move.does([&old_place, &new_place, &with] { run_move(old_place, new_place, with); });
    auto roles = sub.add("roles", "let others use a ledger in a database: groups for entering and for only reading");
    roles.does([&with] {
        ledger::make_roles(with.open());
        with.out
            << "the groups tarewell_entry (who may enter) and tarewell_reader (who may only read) have their rights; "
               "make a person's own role a member of one: GRANT tarewell_reader TO ruth\n";
    });
    auto evidence = sub.add("evidence", "an auditor's folder: report, journal, documents, and how to check them");
    auto& quarter = sub.keep<std::string>();
    auto& folder = sub.keep<std::string>();
    evidence.value("QUARTER", quarter, "such as 2026-Q3").required();
    evidence.value("FOLDER", folder, "a new folder").required();
    evidence.does([&quarter, &folder, &with] {
        const auto on = render::write_evidence_folder(with.open(), quarter, folder, with.templates_folder({}));
        with.out << fmt::format("wrote {}: {} as of entry {}{}\n", folder, quarter, on.as_of,
                                on.closed ? ", as filed" : "; not closed yet");
    });
}

} // namespace

void add_ledger(const command& program, context& with) {
    auto sub = program.add("ledger", "the ledger itself: history, proof, backup");
    sub.wants_subcommand();
    add_looking(sub, with);
    add_keeping(sub, with);
}

} // namespace tarewell::cli
