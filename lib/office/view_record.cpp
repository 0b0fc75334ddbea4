#include "desk/journal.hpp"
#include "desk/labels.hpp"
#include "desk/understood.hpp"
#include "intake/keeping.hpp"
#include "ledger/documents.hpp"
#include "office/entry_form.hpp"
#include "office/scratch.hpp"
#include "office/views.hpp"
#include "reconcile/flags.hpp"
#include "records/owned_row.hpp"

#include <fmt/format.h>
#include <fmt/ranges.h>

namespace tarewell::office {
namespace {

using ledger::stored_row;
using records::entry_no;
using records::kind_info;

std::string link_to(const stored_row& stored) {
    const auto& kind = records::info(stored.values.which);
    return record_link(kind.name, stored.values[kind.key[0]], kind.key_columns == 2 ? stored.values[kind.key[1]] : "");
}

value line_of(const desk::season_view& seen, const stored_row& stored) {
    const auto& kind = records::info(stored.values.which);
    return {{"kind", desk::label_of(kind)},
            {"key", records::key_for_people(stored.values)},
            {"link", link_to(stored)},
            {"values", desk::understood(seen.season, seen.reckoning, stored)}};
}

value values_of(const stored_row& stored) {
    const auto& kind = records::info(stored.values.which);
    auto values = value::array();
    for (std::size_t i = 0; i < kind.columns.size(); ++i) {
        if (stored.values[i].empty()) continue;
        const auto named = records::kind_named(kind.columns[i], stored.values);
        values.push_back(
            {{"label", desk::label_of(kind, kind.columns[i])},
             {"text", stored.values[i]},
             {"link", named ? value{record_link(records::info(*named).name, stored.values[i])} : value{}}});
    }
    return values;
}

/// The other rows of a record of several rows, and the records of any kind that name it.
value neighbours_of(const desk::season_view& seen, const stored_row& of) {
    constexpr std::size_t most = 100;
    const auto& kind = records::info(of.values.which);
    const auto id = of.values[kind.key[0]];
    std::vector<value> found;
    const auto add = [&](const stored_row& stored) {
        if (stored.entry != of.entry && found.size() < most) found.push_back(line_of(seen, stored));
    };
    if (kind.key_columns == 2) seen.file.for_each_with(kind.which, kind.columns[kind.key[0]].name, id, seen.as_of, add);
    for (const auto& other : records::recorded_kinds())
        for (const auto& column : other.columns)
            if (column.names == kind.which || column.names_by != nullptr)
                seen.file.for_each_with(other.which, column.name, id, seen.as_of, [&](const stored_row& stored) {
                    if (records::kind_named(column, stored.values) == kind.which) add(stored);
                });
    auto neighbours = value::array();
    for (auto& each : found)
        neighbours.push_back(std::move(each));
    return neighbours;
}

value history_of(const desk::season_view& seen, const std::vector<std::string>& record) {
    const auto& kind = *records::find_kind(record[0]);
    auto history = value::array();
    const auto told = desk::history_of(desk::looked_at{ledger::ledger_file::open(seen.file.path())}, record);
    for (const auto& each : *told.data.list()) {
        const auto& deed = *each.find("deed")->text();
        const auto entry = std::stoll(each.find("entry")->json(false));
        value line{{"at", *each.find("at")},
                   {"who", *each.find("who")},
                   {"entry", entry},
                   {"deed", deed == "void" ? "voided it" : deed == "correct" ? "corrected it" : "recorded it"},
                   {"why", *each.find("why")},
                   {"written", nullptr}};
        if (deed != "void")
            seen.file.with_entry(kind.which, entry,
                                 [&](const stored_row& stored) { line["written"] = desk::written_values(stored); });
        history.push_back(std::move(line));
    }
    return history;
}

value documents_of(const desk::season_view& seen, const std::string& record) {
    auto documents = value::array();
    seen.file.for_each_with(records::kind::document, "record", record, seen.as_of, [&](const stored_row& stored) {
        documents.push_back({{"entry", stored.entry}, {"name", stored.values["name"]}});
    });
    return documents;
}

value flags_about(state& of, entry_no entry) {
    auto flags = value::array();
    if (!of.kept.season().season.the_award) return flags;
    for (const auto& each : of.kept.flags())
        if (std::any_of(each.rows.begin(), each.rows.end(), [&](const auto& row) { return row.entry == entry; }))
            flags.push_back({{"level", name_of(reconcile::level_of(each.code))},
                             {"sentence", each.sentence},
                             {"blocks", reconcile::blocks_closing(each.code)}});
    return flags;
}

/// The row to show: the record's last, active or void. With one part of a key of two, its first active row.
struct shown_row {
    entry_no entry = 0;
    records::owned_row values;
    [[nodiscard]] stored_row stored() const { return {entry, values.values()}; }
};

shown_row row_of(const desk::season_view& seen, const kind_info& kind, const std::vector<std::string>& key) {
    std::vector<shown_row> rows;
    seen.file.for_each_with(
        kind.which, kind.columns[kind.key[0]].name, key[0], seen.as_of,
        [&](const stored_row& stored) {
            if (key.size() < 2 || kind.key_columns < 2 || stored.values[kind.key[1]] == key[1])
                rows.push_back({stored.entry, records::owned_row{stored.values}});
        },
        ledger::ledger_file::which_rows::ever);
    if (rows.empty())
        throw records::input_error(
            fmt::format("the ledger has no {} {}; look for it under Find", kind.name, fmt::join(key, " ")));
    const auto active =
        std::find_if(rows.begin(), rows.end(), [&](const auto& each) { return !seen.file.replaced_by(each.entry); });
    return std::move(active == rows.end() ? rows.back() : *active);
}

std::string documented_record(const kind_info& kind, const std::vector<std::string>& key) {
    return fmt::format("{} {}", kind.name, fmt::join(key, " "));
}

value record_data(state& of, const kind_info& kind, const stored_row& stored) {
    const auto& seen = of.kept.season();
    std::vector<std::string> key{std::string{stored.values[kind.key[0]]}};
    if (kind.key_columns == 2) key.emplace_back(stored.values[kind.key[1]]);
    std::vector<std::string> record{std::string{kind.name}};
    record.insert(record.end(), key.begin(), key.end());
    const bool is_void = seen.file.replaced_by(stored.entry).has_value();
    const auto link = link_to(stored);
    value data{{"kind", kind.name},
               {"id", key[0]},
               {"second", key.size() > 1 ? value{key[1]} : value{}},
               {"void", is_void},
               {"shown", stands_as(seen.file, kind, key)},
               {"values", values_of(stored)},
               {"correct", "/correct" + link.substr(link.find('?'))},
               {"history", history_of(seen, record)},
               {"sentence", is_void ? value{} : value{desk::understood(seen.season, seen.reckoning, stored)}},
               {"grower", kind.which == records::kind::grower},
               {"confirmable", kind.which == records::kind::ticket  ? value{"ticket"}
                               : kind.which == records::kind::cover ? value{"registration"}
                                                                    : value{}}};
    put_list(data, "neighbours", neighbours_of(seen, stored));
    put_list(data, "documents", documents_of(seen, documented_record(kind, key)));
    put_list(data, "flags", flags_about(of, stored.entry));
    return data;
}

} // namespace

response show_record(state& of, const call& from) {
    const auto& kind = kind_of(from.query);
    const auto key = key_of(from.query);
    auto data = record_data(of, kind, row_of(of.kept.season(), kind, key).stored());
    const auto* told = of.told.find(from.query.text("told"));
    data["said"] = nullptr;
    if (told != nullptr) {
        data["said"] = said_of(told->echo);
        data["said"]["heading"] = told->heading;
    }
    return page(of, "record", fmt::format("{} {}", desk::label_of(kind), fmt::join(key, " ")), std::move(data));
}

response take_document(state& of, const call& from) {
    const auto& kind = kind_of(from.sent);
    const auto key = key_of(from.sent);
    const auto* file = from.sent.find("file");
    if (file == nullptr || !file->file_name || file->value.empty())
        throw records::input_error("no file was sent; choose one and send it again");
    const scratch_folder folder;
    const auto path = folder.write(*file->file_name, file->value);
    (void)intake::attach(of.kept.file(), std::string{kind.name}, fmt::format("{}", fmt::join(key, " ")), path,
                         of.around);
    return sent_on(record_link(kind.name, key[0], key.size() > 1 ? key[1] : ""));
}

response give_document(state& of, const call& from) {
    const auto text = from.query.text("entry");
    std::string name, hash;
    if (!text.empty() && text.size() <= 15 && text.find_first_not_of("0123456789") == std::string::npos)
        of.kept.file().with_entry(records::kind::document, std::stoll(text), [&](const stored_row& stored) {
            name = stored.values["name"];
            hash = stored.values["sha256"];
        });
    if (hash.size() != 64) throw records::input_error("the ledger has no such document");
    const auto bytes = ledger::document(of.kept.file(), hash);
    if (!bytes) throw records::io_error(fmt::format("the document {} is missing; run: tarewell ledger check", name));
    return download(name, "application/octet-stream", *bytes);
}

} // namespace tarewell::office
