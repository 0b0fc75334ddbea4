#include "ledger/hash_form.hpp"
#include "ledger/inside.hpp"
#include "ledger/writing_thread.hpp"
#include "ledger/written_rows.hpp"

#include "quantity/clean_text.hpp"

#include <fmt/format.h>

#include <exception>
#include <system_error>

namespace tarewell::ledger {

using namespace records; // NOLINT
namespace {

constexpr const char* last_act_sql = "SELECT coalesce(max(act), 0) FROM act";

/// So many entries are handed to the writing thread at once.
constexpr std::size_t batch_size = 512;

} // namespace

struct writer::implementation {
    ledger_file::implementation& to;
    const surroundings& around;
    write_transaction transaction;
    std::unique_ptr<query> insert_act;
    sha256 hasher;
    journal_head head;
    act current;
    bool act_written = true;
    std::int64_t act_number = 0;
    digest act_digest{};
    std::string message;
    std::unique_ptr<entry_inserts> inserts;
    std::exception_ptr failure; ///< of a write: nothing is written after it, since SQLite may have taken back the rest
    bool has_no_thread = false;
    std::unique_ptr<entry_batch> batch = std::make_unique<entry_batch>();
    std::optional<writing_thread> thread;

    implementation(ledger_file& whole, const surroundings& world)
        : to{whole.inside()}, around{world}, transaction{*to.store}, insert_act{to.store->prepare(insert_act_sql)},
          head{whole.head()}, act_number{number_of(*to.store, last_act_sql)}, inserts{to.store->inserts()} {
        to.settle_writes = [this] { settle(); };
    }
    ~implementation() {
        to.settle_writes = [] {};
    }
    implementation(const implementation&) = delete;
    implementation& operator=(const implementation&) = delete;

    void write_act();
    void chain(entry_batch::entry next);
    void write_batch();
    void settle();
};

void writer::implementation::write_act() {
    if (act_written) return;
    settle();
    ++act_number;
    const std::string at = around.now();
    const std::string_view texts[] = {at,           around.who,     current.command,      current.reason,
                                      current.once, current.source, current.source_sha256};
    insert_act->reset();
    insert_act->bind(1, act_number);
    int index = 2;
    for (const auto text : texts)
        insert_act->bind(index++, text);
    insert_act->step();
    act_digest = hasher.of(act_form(act_number, texts));
    act_written = true;
}

/// Hashes the entry onto the chain; it is written with others, or before the file is read.
void writer::implementation::chain(entry_batch::entry next) {
    next.seq = head.seq + 1;
    next.act = act_number;
    message.assign(bytes(head.hash));
    message += bytes(act_digest);
    add_entry_form(message, {next.seq, info(next.values.which).name, name_of(next.what), next.replaces, next.effective,
                             next.line});
    if (next.what != deed::void_) add_values_form(message, next.values, next.contact_digest);
    next.hash = head.hash = hasher.of(message);
    ++head.seq;
    batch->add(next);
    if (batch->entries().size() == batch_size) write_batch();
}

/// By the thread, where the system gives one.
void writer::implementation::write_batch() {
    if (!thread && !has_no_thread) {
        to.store->expect_many();
        try {
            thread.emplace(*inserts);
        } catch (const std::system_error&) {
            has_no_thread = true;
        }
    }
    if (!thread) return settle();
    batch = thread->write(std::move(batch));
}

void writer::implementation::settle() {
    if (failure) std::rethrow_exception(failure);
    try {
        if (thread) thread->settle();
        if (!batch->entries().empty()) inserts->write(*batch);
    } catch (...) {
        failure = std::current_exception();
        throw;
    }
    batch->clear();
}

writer::writer(ledger_file& to, const surroundings& around)
    : inside_{guarded(to.inside(), [&] { return std::make_unique<implementation>(to, around); })} {}

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
    return guarded(inside_->to, [&] {
        const auto& kind = info(record.which);
        inside_->write_act();
        auto& batch = *inside_->batch;
        entry_batch::entry next;
        next.what = what;
        next.replaces = replaces;
        next.line = line;
        next.values = batch.keep(record);
        if (kind.date_column) next.effective = next.values[*kind.date_column];
        if (kind.has_personal_columns()) {
            next.salt = batch.keep(inside_->around.random());
            next.contact_digest = batch.keep(hex(inside_->hasher.of(contact_form(next.salt, record))));
        }
        inside_->chain(next);
        return inside_->head.seq;
    });
}

entry_no writer::append_void(kind which, entry_no replaces) {
    return guarded(inside_->to, [&] {
        inside_->write_act();
        entry_batch::entry next;
        next.what = deed::void_;
        next.replaces = replaces;
        next.values.which = which;
        inside_->chain(next);
        return inside_->head.seq;
    });
}

void writer::forget(const std::vector<entry_no>& entries) {
    guarded(inside_->to, [&] {
        inside_->settle();
        inside_->to.store->erase_contacts(entries);
    });
}

void writer::commit() {
    guarded(inside_->to, [&] {
        inside_->settle();
        inside_->inserts->finish();
        inside_->transaction.commit(inside_->head.seq, inside_->head.hash);
    });
}

} // namespace tarewell::ledger
