#include "context.hpp"
#include "desk/journal.hpp"
#include "intake/keeping.hpp"
#include "ledger/whole_file.hpp"

#include <fmt/format.h>

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

void run_erase(const erase_options& how, context& with) {
    auto file = with.open();
    const auto entry = intake::erase_contact(file, how.grower, how.why, with.writing());
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
    const auto entry = intake::attach(file, how.kind, how.key, how.file, with.writing());
    with.out << (entry == 0 ? "that record has that document already; nothing was changed\n"
                            : fmt::format("attached by entry {}\n", entry));
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
    list.flag("--missing", missing, "costs, tickets, rejects and acceptances without a document");
    list.flag("--json", with.json, "JSON output");
    list.does([&missing, &with] { with.print(desk::documents_of(desk::looked_at{with.open()}, missing)); });
}

} // namespace tarewell::cli
