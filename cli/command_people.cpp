#include "context.hpp"
#include "intake/csv.hpp"
#include "intake/keeping.hpp"
#include "ledger/keeping.hpp"
#include "ledger/whole_file.hpp"
#include "records/season.hpp"
#include "text_table.hpp"
#include "who.hpp"

#include <fmt/format.h>
#include <nlohmann/json.hpp>

#include <ostream>
#include <set>

namespace tarewell::cli {
namespace {

void run_export(const std::string& to, context& with) {
    const auto file = with.open();
    const auto& kind = ledger::info(ledger::kind::grower);
    std::string text;
    for (const auto& column : kind.columns)
        text += (text.empty() ? "" : ",") + std::string{column.name};
    text += '\n';
    std::size_t count = 0;
    file.for_each(kind.which, file.head().seq, [&](const ledger::stored_row& stored) {
        for (std::size_t i = 0; i < kind.columns.size(); ++i)
            text += (i == 0 ? "" : ",") + intake::csv_field(stored.values[i]);
        text += '\n';
        ++count;
    });
    ledger::write_whole(to, text);
    with.out << fmt::format("wrote {} growers with their contact details to {}; it is personal, keep it so\n", count,
                            to);
}

struct erase_options {
    std::string grower, why;
};

void run_erase(const erase_options& how, context& with) {
    auto file = with.open();
    const auto entry = intake::erase_contact(file, how.grower, how.why, writing(with));
    if (entry == 0)
        with.out << "nothing was left to erase\n";
    else
        with.out << fmt::format(
            "erased the contact details of {} by entry {}; ids and weights stay. Backups and exported "
            "files made before still hold them: see to those too\n",
            how.grower, entry);
}

struct attach_options {
    std::string kind, key, file;
};

void run_attach(const attach_options& how, context& with) {
    auto file = with.open();
    const auto entry = intake::attach(file, how.kind, how.key, how.file, writing(with));
    with.out << (entry == 0 ? "that record has that document already; nothing was changed\n"
                            : fmt::format("attached by entry {}\n", entry));
}

/// Records of the kinds that want a source document and have none attached.
void run_documents(bool missing, bool as_json, context& with) {
    const auto file = with.open();
    const auto head = file.head().seq;
    auto list = nlohmann::ordered_json::array();
    text_table table{missing ? std::vector<std::string>{"record", "named in the record"}
                             : std::vector<std::string>{"record", "name", "sha256"}};
    std::set<std::string> attached;
    file.for_each(ledger::kind::document, head, [&](const ledger::stored_row& stored) {
        attached.emplace(stored.values["record"]);
        if (missing) return;
        table.add({std::string{stored.values["record"]}, std::string{stored.values["name"]},
                   std::string{stored.values["sha256"]}});
        list.push_back({{"record", stored.values["record"]},
                        {"name", stored.values["name"]},
                        {"sha256", stored.values["sha256"]}});
    });
    if (missing)
        for (const auto which :
             {ledger::kind::cost, ledger::kind::ticket, ledger::kind::reject, ledger::kind::acceptance})
            file.for_each(which, head, [&](const ledger::stored_row& stored) {
                const auto& kind = ledger::info(which);
                const auto record = fmt::format("{} {}", kind.name, ledger::key_for_people(stored.values));
                if (attached.contains(record)) return;
                const std::string named{stored.values[kind.index_of("document")]};
                table.add({record, named});
                list.push_back({{"record", record}, {"document", named}});
                with.exit = findings;
            });
    if (as_json)
        with.out << list.dump(2) << '\n';
    else
        table.print(with.out);
}

} // namespace

void add_growers(const command& program, context& with) {
    auto sub = program.add("growers", "growers' contact details: export them, or erase them on request");
    sub.wants_subcommand();
    auto exporting = sub.add("export", "write growers with contact details as CSV");
    auto& to = program.keep<std::string>();
    exporting.value("FILE", to, "where to write").required();
    exporting.does([&to, &with] { run_export(to, with); });
    auto erase = sub.add("erase", "erase a grower's name, farm, email and phone for good");
    auto& how = program.keep<erase_options>();
    erase.value("GROWER", how.grower, "the grower's id").required();
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
    auto& as_json = program.keep<bool>();
    list.flag("--missing", missing, "costs, tickets, rejects and acceptances without a document");
    list.flag("--json", as_json, "for machines");
    list.does([&missing, &as_json, &with] { run_documents(missing, as_json, with); });
}

} // namespace tarewell::cli
