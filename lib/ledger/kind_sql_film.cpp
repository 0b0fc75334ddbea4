#include "ledger/kind_sql.hpp"

namespace tarewell::ledger {
namespace {

// Columns stand in the order of kinds.cpp, then the worked-out whole numbers; a test holds the two
// lists and the schema together. In force as of ?1: recorded by then, neither replaced nor voided.

constexpr std::string_view insert_award = R"sql(
INSERT INTO award (seq, "award", "agency", "program", "region", "begins", "ends", "goal_tons",
        "quarter_starts", "unit", "match_percent", "match_base", "indirect_percent",
        "counted_when")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_award = R"sql(
SELECT seq, "award", "agency", "program", "region", "begins", "ends", "goal_tons",
        "quarter_starts", "unit", "match_percent", "match_base", "indirect_percent",
        "counted_when"
        FROM award
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_award = R"sql(
SELECT seq, "award", "agency", "program", "region", "begins", "ends", "goal_tons",
        "quarter_starts", "unit", "match_percent", "match_base", "indirect_percent",
        "counted_when"
        FROM award
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_site = R"sql(
INSERT INTO sites (seq, "site", "name", "town", "host", "opens", "closes", "capacity_lb")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_site = R"sql(
SELECT seq, "site", "name", "town", "host", "opens", "closes", "capacity_lb"
        FROM sites
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_site = R"sql(
SELECT seq, "site", "name", "town", "host", "opens", "closes", "capacity_lb"
        FROM sites
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_grower = R"sql(
INSERT INTO growers (seq, "grower", "town", "region", "contact_digest")
    VALUES (?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_grower = R"sql(
SELECT g.seq, g."grower", c."name", c."farm", g."town", g."region", c."email", c."phone"
        FROM growers AS g LEFT JOIN contact AS c USING (seq)
    WHERE g.seq <= ?1 AND g.seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY g.seq
)sql";
constexpr std::string_view entry_grower = R"sql(
SELECT g.seq, g."grower", c."name", c."farm", g."town", g."region", c."email", c."phone"
        FROM growers AS g LEFT JOIN contact AS c USING (seq)
    WHERE g.seq = ?1
)sql";

constexpr std::string_view insert_scale = R"sql(
INSERT INTO scales (seq, "scale", "location", "class", "capacity", "division", "unit",
        "certified_on", "certified_until")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_scale = R"sql(
SELECT seq, "scale", "location", "class", "capacity", "division", "unit", "certified_on",
        "certified_until"
        FROM scales
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_scale = R"sql(
SELECT seq, "scale", "location", "class", "capacity", "division", "unit", "certified_on",
        "certified_until"
        FROM scales
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_cover = R"sql(
INSERT INTO covers (seq, "registration", "date", "grower", "site", "cover", "structure",
        "length_ft", "width_ft", "rise_ft", "layers", "film", "mil")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_cover = R"sql(
SELECT seq, "registration", "date", "grower", "site", "cover", "structure", "length_ft",
        "width_ft", "rise_ft", "layers", "film", "mil"
        FROM covers
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_cover = R"sql(
SELECT seq, "registration", "date", "grower", "site", "cover", "structure", "length_ft",
        "width_ft", "rise_ft", "layers", "film", "mil"
        FROM covers
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_bundle = R"sql(
INSERT INTO bundles (seq, "bundle", "registration", "number", "of", "estimate", "unit",
        "estimate_thousandths")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_bundle = R"sql(
SELECT seq, "bundle", "registration", "number", "of", "estimate", "unit", estimate_thousandths
        FROM bundles
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_bundle = R"sql(
SELECT seq, "bundle", "registration", "number", "of", "estimate", "unit", estimate_thousandths
        FROM bundles
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_receipt = R"sql(
INSERT INTO receipts (seq, "receipt", "date", "site", "bundle", "registration", "number",
        "outcome", "reason", "disposition", "received_by")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_receipt = R"sql(
SELECT seq, "receipt", "date", "site", "bundle", "registration", "number", "outcome",
        "reason", "disposition", "received_by"
        FROM receipts
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_receipt = R"sql(
SELECT seq, "receipt", "date", "site", "bundle", "registration", "number", "outcome",
        "reason", "disposition", "received_by"
        FROM receipts
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_haul = R"sql(
INSERT INTO hauls (seq, "haul", "date", "from", "to", "bundle", "driver")
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_haul = R"sql(
SELECT seq, "haul", "date", "from", "to", "bundle", "driver"
        FROM hauls
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_haul = R"sql(
SELECT seq, "haul", "date", "from", "to", "bundle", "driver"
        FROM hauls
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_bale = R"sql(
INSERT INTO bales (seq, "bale", "date", "site", "bundle")
    VALUES (?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_bale = R"sql(
SELECT seq, "bale", "date", "site", "bundle"
        FROM bales
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_bale = R"sql(
SELECT seq, "bale", "date", "site", "bundle"
        FROM bales
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_reject = R"sql(
INSERT INTO rejects (seq, "reject", "date", "stage", "bundle", "bale", "weight", "unit",
        "reason", "disposition", "document", "weight_thousandths")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_reject = R"sql(
SELECT seq, "reject", "date", "stage", "bundle", "bale", "weight", "unit", "reason",
        "disposition", "document", weight_thousandths
        FROM rejects
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_reject = R"sql(
SELECT seq, "reject", "date", "stage", "bundle", "bale", "weight", "unit", "reason",
        "disposition", "document", weight_thousandths
        FROM rejects
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_shipment = R"sql(
INSERT INTO shipments (seq, "shipment", "date", "processor", "bale", "carrier",
        "bill_of_lading")
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_shipment = R"sql(
SELECT seq, "shipment", "date", "processor", "bale", "carrier", "bill_of_lading"
        FROM shipments
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_shipment = R"sql(
SELECT seq, "shipment", "date", "processor", "bale", "carrier", "bill_of_lading"
        FROM shipments
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_ticket = R"sql(
INSERT INTO tickets (seq, "ticket", "date", "scale", "weighs", "subject", "gross", "tare",
        "net", "unit", "weigher", "entry", "as_printed", "document", "net_thousandths")
    VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_ticket = R"sql(
SELECT seq, "ticket", "date", "scale", "weighs", "subject", "gross", "tare", "net", "unit",
        "weigher", "entry", "as_printed", "document", net_thousandths
        FROM tickets
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_ticket = R"sql(
SELECT seq, "ticket", "date", "scale", "weighs", "subject", "gross", "tare", "net", "unit",
        "weigher", "entry", "as_printed", "document", net_thousandths
        FROM tickets
    WHERE seq = ?1
)sql";

constexpr std::string_view insert_acceptance = R"sql(
INSERT INTO acceptances (seq, "shipment", "date", "weight", "unit", "document",
        "weight_thousandths")
    VALUES (?, ?, ?, ?, ?, ?, ?)
)sql";
constexpr std::string_view in_force_acceptance = R"sql(
SELECT seq, "shipment", "date", "weight", "unit", "document", weight_thousandths
        FROM acceptances
    WHERE seq <= ?1 AND seq NOT IN
        (SELECT replaces FROM journal WHERE replaces IS NOT NULL AND journal.seq <= ?1)
    ORDER BY seq
)sql";
constexpr std::string_view entry_acceptance = R"sql(
SELECT seq, "shipment", "date", "weight", "unit", "document", weight_thousandths
        FROM acceptances
    WHERE seq = ?1
)sql";

constexpr kind_sql statements[] = {
    {insert_award, in_force_award, entry_award, "SELECT count(*) FROM award"},
    {insert_site, in_force_site, entry_site, "SELECT count(*) FROM sites"},
    {insert_grower, in_force_grower, entry_grower, "SELECT count(*) FROM growers"},
    {insert_scale, in_force_scale, entry_scale, "SELECT count(*) FROM scales"},
    {insert_cover, in_force_cover, entry_cover, "SELECT count(*) FROM covers"},
    {insert_bundle, in_force_bundle, entry_bundle, "SELECT count(*) FROM bundles"},
    {insert_receipt, in_force_receipt, entry_receipt, "SELECT count(*) FROM receipts"},
    {insert_haul, in_force_haul, entry_haul, "SELECT count(*) FROM hauls"},
    {insert_bale, in_force_bale, entry_bale, "SELECT count(*) FROM bales"},
    {insert_reject, in_force_reject, entry_reject, "SELECT count(*) FROM rejects"},
    {insert_shipment, in_force_shipment, entry_shipment, "SELECT count(*) FROM shipments"},
    {insert_ticket, in_force_ticket, entry_ticket, "SELECT count(*) FROM tickets"},
    {insert_acceptance, in_force_acceptance, entry_acceptance, "SELECT count(*) FROM acceptances"},
};

} // namespace

std::span<const kind_sql> film_statements() { return statements; }

} // namespace tarewell::ledger
