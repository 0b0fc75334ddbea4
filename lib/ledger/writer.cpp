#include "ledger/hash_form.hpp"
#include "ledger/inside.hpp"
#include "ledger/kind_sql.hpp"

#include "quantity/clean_text.hpp"

#include <fmt/format.h>

#include <map>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* insert_act_sql = R"sql(
INSERT INTO act (act, at, who, command, reason, once, source, source_sha256)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* insert_journal_sql = R"sql(
INSERT INTO journal (seq, act, kind, deed, replaces, effective, line, hash)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* insert_contact_sql = R"sql(
INSERT INTO contact (seq, salt, name, farm, email, phone) VALUES (?, ?, ?, ?, ?, ?)
)sql";
constexpr const char* erase_sql = R"sql(
UPDATE contact SET salt = NULL, name = NULL, farm = NULL, email = NULL, phone = NULL WHERE seq = ?1
)sql";
constexpr const char* last_act_sql = "SELECT coalesce(max(act), 0) FROM act";

void bind_text(SQLite::Statement& statement, int index, std::string_view text, std::string& buffer) {
    if (text.empty()) {
        statement.bind(index);
        return;
    }
    buffer.assign(text);
    statement.bindNoCopy(index, buffer);
}

} // namespace

struct writer::implementation {
    ledger_file::implementation& to;
    const surroundings& around;
    immediate_transaction transaction;
    SQLite::Statement insert_act;
    SQLite::Statement insert_journal;
    SQLite::Statement insert_contact;
    std::map<kind, SQLite::Statement> inserts;
    std::array<std::string, most_columns> buffers;
    sha256 hasher;
    journal_head head;
    act current;
    bool act_written = true;
    std::int64_t act_number = 0;
    digest act_digest{};
    std::string message;
    std::string contact_digest;

    implementation(ledger_file& whole, const surroundings& world)
        : to{whole.inside()}, around{world}, transaction{to.database}, insert_act{to.database, insert_act_sql},
          insert_journal{to.database, insert_journal_sql}, insert_contact{to.database, insert_contact_sql},
          head{whole.head()}, act_number{to.database.execAndGet(last_act_sql).getInt64()} {}

    void write_act();
    void chain(std::string_view kind_name, deed what, std::optional<entry_no> replaces, std::string_view effective,
               std::optional<std::int64_t> line);
    void write_contact(const row& record);
    void write_row(const row& record);
    void add_values(const row& record);
};

void writer::implementation::write_act() {
    if (act_written) return;
    ++act_number;
    const std::string at = around.now();
    const std::string_view texts[] = {at,           around.who,     current.command,      current.reason,
                                      current.once, current.source, current.source_sha256};
    insert_act.reset();
    insert_act.bind(1, act_number);
    int index = 2;
    for (const auto text : texts) {
        bind_text(insert_act, index, text, buffers[static_cast<std::size_t>(index)]);
        ++index;
    }
    insert_act.exec();
    act_digest = hasher.of(act_form(act_number, texts));
    act_written = true;
}

/// Completes `message` (the values are in `values`), hashes it onto the chain, writes the entry.
void writer::implementation::chain(std::string_view kind_name, deed what, std::optional<entry_no> replaces,
                                   std::string_view effective, std::optional<std::int64_t> line) {
    hasher.begin();
    hasher.add(bytes(head.hash));
    hasher.add(bytes(act_digest));
    hasher.add(entry_form({head.seq + 1, kind_name, name_of(what), replaces, effective, line}));
    hasher.add(message);
    head.hash = hasher.end();
    ++head.seq;

    insert_journal.reset();
    insert_journal.bind(1, head.seq);
    insert_journal.bind(2, act_number);
    bind_text(insert_journal, 3, kind_name, buffers[0]);
    bind_text(insert_journal, 4, name_of(what), buffers[1]);
    if (replaces)
        insert_journal.bind(5, *replaces);
    else
        insert_journal.bind(5);
    bind_text(insert_journal, 6, effective, buffers[2]);
    if (line)
        insert_journal.bind(7, *line);
    else
        insert_journal.bind(7);
    insert_journal.bindNoCopy(8, head.hash.data(), static_cast<int>(head.hash.size()));
    insert_journal.exec();
}

void writer::implementation::add_values(const row& record) {
    contact_digest.clear();
    if (info(record.which).has_personal_columns()) {
        buffers[15] = around.random();
        contact_digest = hex(hasher.of(contact_form(buffers[15], record)));
    }
    message = values_form(record, contact_digest);
}

void writer::implementation::write_contact(const row& record) {
    const auto& kind = info(record.which);
    insert_contact.reset();
    insert_contact.bind(1, head.seq);
    insert_contact.bindNoCopy(2, buffers[15]);
    int index = 3;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (kind.columns[i].personal) {
            bind_text(insert_contact, index, record[i], buffers[static_cast<std::size_t>(index)]);
            ++index;
        }
    insert_contact.exec();
}

void writer::implementation::write_row(const row& record) {
    const auto& kind = info(record.which);
    auto found = inserts.find(record.which);
    if (found == inserts.end())
        found = inserts.emplace(record.which, SQLite::Statement{to.database, sql_of(record.which).insert}).first;
    auto& insert = found->second;
    insert.reset();
    insert.bind(1, head.seq);
    int index = 2;
    for (std::size_t i = 0; i < kind.columns.size(); ++i)
        if (!kind.columns[i].personal) bind_text(insert, index++, record[i], buffers[i]);
    if (!contact_digest.empty()) insert.bindNoCopy(index++, contact_digest);
    for (std::size_t i = 0; i < kind.worked_out.size(); ++i) {
        if (record.worked_out[i])
            insert.bind(index++, *record.worked_out[i]);
        else
            insert.bind(index++);
    }
    insert.exec();
}

writer::writer(ledger_file& to, const surroundings& around)
    : inside_{guarded(to.path(), [&] { return std::make_unique<implementation>(to, around); })} {}

writer::~writer() = default;

void writer::begin(act what) {
    // What a person types about a deed stays in the journal for good.
    for (const auto& [name, text] :
         {std::pair<const char*, std::string_view>{"who makes the entry", inside_->around.who},
          {"the reason", what.reason},
          {"the key of --once", what.once},
          {"the source", what.source}})
        if (const auto at = quantity::first_bad_byte(text); at != std::string_view::npos)
            throw input_error(
                fmt::format("{} is not valid text (byte 0x{:02X}); write it in UTF-8 without control characters", name,
                            static_cast<unsigned char>(text[at])));
    inside_->current = std::move(what);
    inside_->act_written = false;
}

entry_no writer::append(const row& record, deed what, std::optional<entry_no> replaces,
                        std::optional<std::int64_t> line) {
    return guarded(inside_->to.path, [&] {
        const auto& kind = info(record.which);
        inside_->write_act();
        inside_->add_values(record);
        const auto effective = kind.date_column ? record[*kind.date_column] : std::string_view{};
        inside_->chain(kind.name, what, replaces, effective, line);
        inside_->write_row(record);
        if (!inside_->contact_digest.empty()) inside_->write_contact(record);
        return inside_->head.seq;
    });
}

entry_no writer::append_void(kind which, entry_no replaces) {
    return guarded(inside_->to.path, [&] {
        inside_->write_act();
        inside_->message.clear();
        inside_->chain(info(which).name, deed::void_, replaces, {}, std::nullopt);
        return inside_->head.seq;
    });
}

void writer::forget(const std::vector<entry_no>& entries) {
    struct permission {
        explicit permission(bool& of) : of_{of} { of_ = true; }
        ~permission() { of_ = false; }
        permission(const permission&) = delete;
        permission& operator=(const permission&) = delete;
        bool& of_;
    };
    guarded(inside_->to.path, [&] {
        const permission given{inside_->to.may_erase};
        SQLite::Statement erase{inside_->to.database, erase_sql};
        for (const auto entry : entries) {
            erase.reset();
            erase.bind(1, entry);
            erase.exec();
        }
    });
}

void writer::commit() {
    guarded(inside_->to.path, [&] { inside_->transaction.commit(); });
}

} // namespace tarewell::ledger
