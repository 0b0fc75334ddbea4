#include "intake/keeping.hpp"

#include "ledger/keeping.hpp"
#include "ledger/whole_file.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>

namespace tarewell::intake {

using namespace records; // NOLINT
using namespace ledger;  // NOLINT
using namespace records; // NOLINT
namespace fs = std::filesystem;

entry_no erase_contact(ledger_file& in, const std::string& grower, const std::string& reason,
                       const surroundings& around) {
    if (reason.empty())
        throw input_error("--why is empty; say in a sentence why, such as: asked by the grower on 2026-11-02");
    writer writing{in, around};
    std::string entries;
    std::vector<entry_no> left;
    bool known = false;
    in.for_each_with(
        kind::grower, "grower", grower, in.head().seq,
        [&](const stored_row& stored) {
            known = true;
            if (is_erased(stored.values)) return;
            left.push_back(stored.entry);
            entries += (entries.empty() ? "" : " ") + std::to_string(stored.entry);
        },
        ledger_file::which_rows::ever);
    if (!known) throw input_error(fmt::format("no grower '{}' is defined; mend the id", grower));
    if (left.empty()) return 0;
    row values;
    values.which = kind::erasure;
    values.set("grower", grower);
    values.set("entries", entries);
    writing.begin({"erase contact", reason});
    const auto entry = writing.append(values, deed::erase);
    writing.forget(left);
    writing.commit();
    return entry;
}

std::string documents_folder(const ledger_file& of) { return of.path() + ".documents"; }

entry_no attach(ledger_file& to, const std::string& kind_name, const std::string& key, const std::string& path,
                const surroundings& around) {
    const auto* kind = find_kind(kind_name);
    if (kind == nullptr || kind->internal)
        throw input_error(
            fmt::format("'{}' is no kind of record{}", kind_name, did_you_mean(kind_name, names_of_kinds())));
    const auto record = fmt::format("{} {}", kind->name, key);
    const auto hash = sha256_of_file(path);
    writer writing{to, around};
    const auto head = to.head().seq;
    bool there = false, attached = false;
    to.for_each(kind->which, head, [&](const stored_row& stored) {
        there = there || key_for_people(stored.values) == key || stored.values[kind->key[0]] == key;
    });
    if (!there) throw input_error(fmt::format("the ledger holds no {}; mend the id", record));
    to.for_each(kind::document, head, [&](const stored_row& stored) {
        attached = attached || (stored.values["record"] == record && stored.values["sha256"] == hash);
    });
    const auto folder = fs::path{documents_folder(to)};
    std::error_code failure;
    fs::create_directories(folder, failure);
    const auto kept = (folder / hash).string();
    if (!fs::exists(kept)) {
        whole_file copy{kept};
        if (!fs::copy_file(path, copy.partial(), failure))
            throw io_error(fmt::format("{} could not be copied: {}", path, failure.message()));
        copy.put_in_place();
    }
    if (sha256_of_file(kept) != hash)
        throw io_error(fmt::format("{} was not copied whole; remove {} and try again", path, kept));
    if (attached) return 0;
    const auto name = fs::path{path}.filename().string();
    const auto size = std::to_string(std::max<std::uintmax_t>(fs::file_size(kept), 1));
    row values;
    values.which = kind::document;
    values.set("record", record);
    values.set("sha256", hash);
    values.set("name", name);
    values.set("bytes", size);
    writing.begin({"attach document", {}, {}, name, hash});
    const auto entry = writing.append(values);
    writing.commit();
    return entry;
}

std::vector<document_fault> check_documents(const ledger_file& of) {
    std::vector<document_fault> faults;
    of.for_each(kind::document, of.head().seq, [&](const stored_row& stored) {
        const auto kept = (fs::path{documents_folder(of)} / std::string{stored.values["sha256"]}).string();
        std::string what;
        if (!fs::exists(kept))
            what = "is missing: " + kept;
        else if (sha256_of_file(kept) != stored.values["sha256"])
            what = "was changed: " + kept;
        if (!what.empty())
            faults.push_back(
                {stored.entry, std::string{stored.values["record"]}, std::string{stored.values["name"]}, what});
    });
    return faults;
}

} // namespace tarewell::intake
