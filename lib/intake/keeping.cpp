#include "intake/keeping.hpp"

#include "ledger/keeping.hpp"
#include "records/nearest_name.hpp"

#include <fmt/format.h>

#include <algorithm>
#include <filesystem>
#include <fstream>
#include <iterator>

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

namespace {

/// For people: where a document's bytes are.
std::string place_of(const ledger_file& in, const std::string& hash) {
    const auto folder = documents_folder(in);
    return folder.empty() ? fmt::format("{}, document_content {}", in.path(), hash)
                          : (fs::path{folder} / hash).string();
}

std::string bytes_of(const std::string& path) {
    std::ifstream in{path, std::ios::binary};
    std::string bytes{std::istreambuf_iterator<char>{in}, {}};
    if (!in || in.bad()) throw io_error(path + " could not be read to its end");
    return bytes;
}

} // namespace

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
    const auto kept_bytes = [&] { return ledger::document(to, hash); };
    auto kept = kept_bytes();
    if (!kept) {
        ledger::keep_document(to, hash, bytes_of(path));
        kept = kept_bytes();
    }
    sha256 hasher;
    if (!kept || hex(hasher.of(*kept)) != hash)
        throw io_error(fmt::format("{} was not copied whole; remove {} and try again", path, place_of(to, hash)));
    if (attached) {
        writing.commit(); // of the bytes, where they were missing
        return 0;
    }
    const auto name = fs::path{path}.filename().string();
    const auto size = std::to_string(std::max<std::size_t>(kept->size(), 1));
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
    sha256 hasher;
    of.for_each(kind::document, of.head().seq, [&](const stored_row& stored) {
        const std::string hash{stored.values["sha256"]};
        const auto kept = ledger::document(of, hash);
        std::string what;
        if (!kept)
            what = "is missing: " + place_of(of, hash);
        else if (hex(hasher.of(*kept)) != hash)
            what = "was changed: " + place_of(of, hash);
        if (!what.empty())
            faults.push_back(
                {stored.entry, std::string{stored.values["record"]}, std::string{stored.values["name"]}, what});
    });
    return faults;
}

} // namespace tarewell::intake
