#include "render/evidence_folder.hpp"

#include "desk/quarter.hpp"
#include "intake/csv.hpp"
#include "intake/keeping.hpp"
#include "ledger/documents.hpp"
#include "ledger/keeping.hpp"
#include "ledger/verify.hpp"
#include "ledger/whole_file.hpp"
#include "ledger/whole_folder.hpp"
#include "render/form_writer.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

namespace tarewell::render {
namespace {

namespace fs = std::filesystem;

/// A CSV field as it is, quoted where needed: these bytes are hashed, so nothing is put before a formula sign.
std::string exact(const std::string& text) { return intake::csv_number(text); }

std::string journal_csv(const ledger::ledger_file& file, records::entry_no as_of) {
    std::string text =
        "seq,act,at,who,command,reason,once,source,source_sha256,kind,deed,replaces,effective,line,values,hash\n";
    ledger::for_each_chained_entry(file, as_of, [&](const ledger::chained_entry& each) {
        const auto& entry = each.entry;
        text += fmt::format("{},{},{},{},{},{},{},{},{},{},{},{},{},{},{},{}\n", entry.seq, entry.act, entry.at,
                            exact(entry.who), exact(entry.command), exact(entry.reason), exact(each.once),
                            exact(entry.source), each.source_sha256, entry.kind, entry.deed,
                            entry.replaces ? std::to_string(*entry.replaces) : "", entry.effective,
                            entry.line ? std::to_string(*entry.line) : "", exact(each.values), entry.hash);
    });
    return text;
}

/// Who closed the quarter, and what stands beside the signatures.
std::string closing_told(const desk::quarter_seen& shown) {
    const auto filed = figures::filed_at(shown.seen.file, shown.report.basis.period, shown.seen.as_of);
    if (!filed) return said_of(shown.report.basis.period, "The quarter is open: nobody has certified these figures.\n");
    auto text =
        fmt::format("Closed by entry {}: prepared by {}, reviewed by {}, certified by {}.\n", filed->entry,
                    filed->signatures.prepared_by, filed->signatures.reviewed_by, filed->signatures.certified_by);
    for (const auto& each : figures::remarks_of(*filed))
        text += fmt::format("{}: {}\n", each.what, each.text);
    return text;
}

std::string readme(const desk::quarter_seen& shown, const std::string& quarter) {
    const auto head = shown.as_of_head();
    return fmt::format(R"(Evidence of {0}, award {1}

This folder can be checked without the program that made it.

1. sha256sum -c manifest.sha256
   says that no file here was changed since the folder was made.
2. journal.csv is the whole journal through entry {2}, the one that the report stands on. Each entry's hash is
   SHA-256 of: the hash before it (32 bytes; zeros for the first), the digest of its act (32 bytes), its heading, and
   the bytes of the column `values`. An act's digest is SHA-256 of its fields act, at, who, command, reason, once,
   source, source_sha256; a heading is the fields seq, kind, deed, replaces, effective, line. A field is written as
   its length in bytes, a colon, the text and a comma ("5:hello,"), or "-," when it is empty. Walk the entries in
   order; the last hash must be
   {3}
   which is also printed on the report.
3. {0}.json holds every figure; {0}.xlsx works each of them out again by formulas over its evidence sheets.
4. documents/ holds the source documents by their SHA-256, those attached since included; documents.csv says whose
   they are.

{4}
Growers are named by id. Their contact details are not in the journal; only a salted digest of them is.
The weights are as recorded. This folder is not legal or accounting advice; the award's terms govern.
)",
                       quarter, shown.seen.award().id, shown.seen.as_of, ledger::hex(head.hash), closing_told(shown));
}

/// Every document attached by now, also after the closing, and a list of them.
void copy_documents(const desk::looked_at& at, const fs::path& into) {
    ledger::sha256 hasher;
    std::string list = "entry,record,name,sha256\n";
    at.file.for_each(records::kind::document, at.head.seq, [&](const ledger::stored_row& stored) {
        const std::string hash{stored.values["sha256"]};
        fs::create_directories(into / "documents");
        const auto bytes = ledger::document(at.file, hash);
        if (!bytes)
            throw records::io_error(fmt::format("the document {} of {} could not be copied: it is missing; attach it "
                                                "again, then: tarewell ledger check",
                                                stored.values["name"], stored.values["record"]));
        if (ledger::hex(hasher.of(*bytes)) != hash)
            throw records::io_error(
                fmt::format("the document {} of {} was changed since it was attached; put the file back, or "
                            "attach it again, then: tarewell ledger check",
                            stored.values["name"], stored.values["record"]));
        const auto copy = (into / "documents" / hash).string();
        if (!fs::exists(copy)) ledger::write_whole(copy, *bytes);
        list += fmt::format("{},{},{},{}\n", stored.entry, intake::csv_field(stored.values["record"]),
                            intake::csv_field(stored.values["name"]), hash);
    });
    ledger::write_whole((into / "documents.csv").string(), list);
}

std::string manifest(const fs::path& folder) {
    std::vector<fs::path> files;
    for (const auto& each : fs::recursive_directory_iterator(folder))
        if (each.is_regular_file()) files.push_back(fs::relative(each.path(), folder));
    std::sort(files.begin(), files.end());
    std::string text;
    for (const auto& file : files)
        text += fmt::format("{}  {}\n", ledger::sha256_of_file((folder / file).string()), file.string());
    return text;
}

} // namespace

figures::basis write_evidence_folder(ledger::ledger_file of, const std::string& quarter, const std::string& folder,
                                     const std::string& templates) {
    const auto shown = desk::view_quarter(std::move(of), quarter);
    ledger::whole_folder made{folder};
    const auto in = [&](const std::string& name) { return (made.partial() / name).string(); };
    ledger::write_whole(in(quarter + ".json"), desk::figures_for_machines(shown.report).json() + "\n");
    for (const auto& [form, ending] : {std::pair{summary_form, ".xlsx"}, std::pair{"quarter_page", ".html"}}) {
        form_request request{form, in(quarter + ending)};
        request.templates = templates;
        write_form(request, shown);
    }
    ledger::write_whole(in("journal.csv"), journal_csv(shown.seen.file, shown.seen.as_of));
    copy_documents(shown.seen, made.partial());
    ledger::write_whole(in("README.txt"), readme(shown, quarter));
    ledger::write_whole(in("manifest.sha256"), manifest(made.partial()));
    made.put_in_place();
    return shown.report.basis;
}

} // namespace tarewell::render
