#include "ledger/kind_sql.hpp"

namespace tarewell::ledger {
namespace {

// Columns stand in the order of kinds.cpp, then the worked-out whole numbers; a test holds the two
// lists and the schema together. In force as of ?1: recorded by then, neither replaced nor voided.
// These follow those of kind_sql_film.cpp.

constexpr std::string_view insert_budget = R"sql(
INSERT INTO budget (seq, "category", "grant", "match", "grant_cents", "match_cents")
    VALUES (?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_budget = R"sql(
SELECT seq, "category", "grant", "match", grant_cents, match_cents
        FROM budget
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_budget = R"sql(
SELECT seq, "category", "grant", "match", grant_cents, match_cents
        FROM budget
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_cost = R"sql(
INSERT INTO costs (seq, "cost", "date", "category", "description", "payee", "amount", "fund",
        "source", "subaward", "paid_on", "document", "amount_cents")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_cost = R"sql(
SELECT seq, "cost", "date", "category", "description", "payee", "amount", "fund", "source",
        "subaward", "paid_on", "document", amount_cents
        FROM costs
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_cost = R"sql(
SELECT seq, "cost", "date", "category", "description", "payee", "amount", "fund", "source",
        "subaward", "paid_on", "document", amount_cents
        FROM costs
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_inkind = R"sql(
INSERT INTO inkind (seq, "inkind", "date", "kind", "giver", "site", "source", "quantity",
        "rate", "amount", "document", "value_cents")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_inkind = R"sql(
SELECT seq, "inkind", "date", "kind", "giver", "site", "source", "quantity", "rate", "amount",
        "document", value_cents
        FROM inkind
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_inkind = R"sql(
SELECT seq, "inkind", "date", "kind", "giver", "site", "source", "quantity", "rate", "amount",
        "document", value_cents
        FROM inkind
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_setting = R"sql(
INSERT INTO settings (seq, "setting", "from", "value")
    VALUES (?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_setting = R"sql(
SELECT seq, "setting", "from", "value"
        FROM settings
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_setting = R"sql(
SELECT seq, "setting", "from", "value"
        FROM settings
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_amendment = R"sql(
INSERT INTO amendments (seq, "amendment", "date", "ends", "goal_tons", "match_percent",
        "match_base", "indirect_percent", "description", "document")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_amendment = R"sql(
SELECT seq, "amendment", "date", "ends", "goal_tons", "match_percent", "match_base",
        "indirect_percent", "description", "document"
        FROM amendments
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_amendment = R"sql(
SELECT seq, "amendment", "date", "ends", "goal_tons", "match_percent", "match_base",
        "indirect_percent", "description", "document"
        FROM amendments
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_rebudget = R"sql(
INSERT INTO rebudgets (seq, "amendment", "category", "grant", "match", "grant_cents",
        "match_cents")
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_rebudget = R"sql(
SELECT seq, "amendment", "category", "grant", "match", grant_cents, match_cents
        FROM rebudgets
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_rebudget = R"sql(
SELECT seq, "amendment", "category", "grant", "match", grant_cents, match_cents
        FROM rebudgets
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_rate = R"sql(
INSERT INTO rates (seq, "rate", "kind", "what", "begins", "value", "source")
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_rate = R"sql(
SELECT seq, "rate", "kind", "what", "begins", "value", "source"
        FROM rates
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_rate = R"sql(
SELECT seq, "rate", "kind", "what", "begins", "value", "source"
        FROM rates
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_obligation = R"sql(
INSERT INTO obligations (seq, "obligation", "date", "category", "description", "payee", "amount",
        "fund", "document", amount_cents)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_obligation = R"sql(
SELECT seq, "obligation", "date", "category", "description", "payee", "amount", "fund", "document",
        amount_cents
        FROM obligations
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_obligation = R"sql(
SELECT seq, "obligation", "date", "category", "description", "payee", "amount", "fund", "document",
        amount_cents
        FROM obligations
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_liquidation = R"sql(
INSERT INTO liquidations (seq, "liquidation", "date", "obligation", "amount", "cost", amount_cents)
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_liquidation = R"sql(
SELECT seq, "liquidation", "date", "obligation", "amount", "cost", amount_cents
        FROM liquidations
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_liquidation = R"sql(
SELECT seq, "liquidation", "date", "obligation", "amount", "cost", amount_cents
        FROM liquidations
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_income = R"sql(
INSERT INTO income (seq, "income", "date", "kind", "method", "description", "party", "amount",
        "cost", "document", amount_cents)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_income = R"sql(
SELECT seq, "income", "date", "kind", "method", "description", "party", "amount", "cost",
        "document", amount_cents
        FROM income
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_income = R"sql(
SELECT seq, "income", "date", "kind", "method", "description", "party", "amount", "cost",
        "document", amount_cents
        FROM income
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_request = R"sql(
INSERT INTO requests (seq, "request", "date", "cost", "indirect", "document", indirect_cents)
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_request = R"sql(
SELECT seq, "request", "date", "cost", "indirect", "document", indirect_cents
        FROM requests
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_request = R"sql(
SELECT seq, "request", "date", "cost", "indirect", "document", indirect_cents
        FROM requests
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_payment = R"sql(
INSERT INTO payments (seq, "payment", "date", "kind", "amount", "request", "retained", "document",
        amount_cents, retained_cents)
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_payment = R"sql(
SELECT seq, "payment", "date", "kind", "amount", "request", "retained", "document", amount_cents,
        retained_cents
        FROM payments
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_payment = R"sql(
SELECT seq, "payment", "date", "kind", "amount", "request", "retained", "document", amount_cents,
        retained_cents
        FROM payments
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_note = R"sql(
INSERT INTO narrative (seq, "quarter", "part", "text")
    VALUES (?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_note = R"sql(
SELECT seq, "quarter", "part", "text"
        FROM narrative
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_note = R"sql(
SELECT seq, "quarter", "part", "text"
        FROM narrative
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_closing = R"sql(
INSERT INTO closings (seq, "quarter", "as_of", "head_hash", "prepared_by", "reviewed_by",
        "certified_by", "accepted", "figures")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_closing = R"sql(
SELECT seq, "quarter", "as_of", "head_hash", "prepared_by", "reviewed_by", "certified_by",
        "accepted", "figures"
        FROM closings
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_closing = R"sql(
SELECT seq, "quarter", "as_of", "head_hash", "prepared_by", "reviewed_by", "certified_by",
        "accepted", "figures"
        FROM closings
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_document = R"sql(
INSERT INTO documents (seq, "record", "sha256", "name", "bytes")
    VALUES (?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_document = R"sql(
SELECT seq, "record", "sha256", "name", "bytes"
        FROM documents
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_document = R"sql(
SELECT seq, "record", "sha256", "name", "bytes"
        FROM documents
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_erasure = R"sql(
INSERT INTO erasures (seq, "grower", "entries")
    VALUES (?, ?, ?)
)sql";
constexpr std::string_view in_force_erasure = R"sql(
SELECT seq, "grower", "entries"
        FROM erasures
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_erasure = R"sql(
SELECT seq, "grower", "entries"
        FROM erasures
    WHERE seq = ?1
)sql";

constexpr kind_sql statements[] = {
    {insert_budget, in_force_budget, entry_budget, "SELECT count(*) FROM budget"},
    {insert_cost, in_force_cost, entry_cost, "SELECT count(*) FROM costs"},
    {insert_inkind, in_force_inkind, entry_inkind, "SELECT count(*) FROM inkind"},
    {insert_setting, in_force_setting, entry_setting, "SELECT count(*) FROM settings"},
    {insert_amendment, in_force_amendment, entry_amendment, "SELECT count(*) FROM amendments"},
    {insert_rebudget, in_force_rebudget, entry_rebudget, "SELECT count(*) FROM rebudgets"},
    {insert_rate, in_force_rate, entry_rate, "SELECT count(*) FROM rates"},
    {insert_obligation, in_force_obligation, entry_obligation, "SELECT count(*) FROM obligations"},
    {insert_liquidation, in_force_liquidation, entry_liquidation, "SELECT count(*) FROM liquidations"},
    {insert_income, in_force_income, entry_income, "SELECT count(*) FROM income"},
    {insert_request, in_force_request, entry_request, "SELECT count(*) FROM requests"},
    {insert_payment, in_force_payment, entry_payment, "SELECT count(*) FROM payments"},
    {insert_note, in_force_note, entry_note, "SELECT count(*) FROM narrative"},
    {insert_closing, in_force_closing, entry_closing, "SELECT count(*) FROM closings"},
    {insert_document, in_force_document, entry_document, "SELECT count(*) FROM documents"},
    {insert_erasure, in_force_erasure, entry_erasure, "SELECT count(*) FROM erasures"},
};

} // namespace

std::span<const kind_sql> award_statements() { return statements; }

} // namespace tarewell::ledger
