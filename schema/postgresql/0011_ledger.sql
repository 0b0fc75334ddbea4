-- The ledger in a database of PostgreSQL, as schema/0001 to 0011 make it in a file: the same tables, columns and order of
-- columns, so that the same entries have the same bytes and hashes. README.md in the folder above tells what they mean.
-- It is run in one transaction by whoever makes the ledger and owns it then.

CREATE SCHEMA tarewell;
SET LOCAL search_path = tarewell;

-- The versions of this folder's files that were applied.
CREATE TABLE schema_versions (
    version integer PRIMARY KEY
);

-- Its one row is held by whoever writes, so that there is one chain; readers cannot hold it.
CREATE TABLE turn (
    turn integer PRIMARY KEY CHECK (turn = 1)
);
INSERT INTO turn VALUES (1);

-- The bytes of source documents, which stand in a folder beside a ledger that is a file.
CREATE TABLE document_content (
    sha256 text COLLATE "C" PRIMARY KEY,
    content bytea NOT NULL
);

CREATE TABLE act (
    act bigint PRIMARY KEY,
    at text COLLATE "C" NOT NULL,
    who text COLLATE "C" NOT NULL,
    command text COLLATE "C" NOT NULL,
    reason text COLLATE "C",
    once text COLLATE "C" UNIQUE,
    source text COLLATE "C",
    source_sha256 text COLLATE "C"
);

CREATE TABLE journal (
    seq bigint PRIMARY KEY,
    act bigint NOT NULL REFERENCES act (act),
    kind text COLLATE "C" NOT NULL,
    deed text COLLATE "C" NOT NULL CHECK (deed IN ('record', 'correct', 'void', 'erase')),
    replaces bigint REFERENCES journal (seq),
    effective text COLLATE "C",
    line bigint,
    hash bytea NOT NULL CHECK (octet_length(hash) = 32)
);

CREATE TABLE contact (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    salt text COLLATE "C",
    name text COLLATE "C",
    farm text COLLATE "C",
    email text COLLATE "C",
    phone text COLLATE "C"
);

CREATE TABLE award (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "award" text COLLATE "C" NOT NULL,
    "agency" text COLLATE "C" NOT NULL,
    "program" text COLLATE "C" NOT NULL,
    "region" text COLLATE "C" NOT NULL,
    "begins" text COLLATE "C" NOT NULL,
    "ends" text COLLATE "C" NOT NULL,
    "goal_tons" text COLLATE "C" NOT NULL,
    "quarter_starts" text COLLATE "C" NOT NULL,
    "unit" text COLLATE "C" NOT NULL,
    "match_percent" text COLLATE "C",
    "match_base" text COLLATE "C",
    "indirect_percent" text COLLATE "C",
    "counted_when" text COLLATE "C"
);

CREATE TABLE sites (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "site" text COLLATE "C" NOT NULL,
    "name" text COLLATE "C" NOT NULL,
    "town" text COLLATE "C",
    "host" text COLLATE "C",
    "opens" text COLLATE "C",
    "closes" text COLLATE "C",
    "capacity_lb" text COLLATE "C"
);

CREATE TABLE growers (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "grower" text COLLATE "C" NOT NULL,
    "town" text COLLATE "C",
    "region" text COLLATE "C" NOT NULL,
    contact_digest text COLLATE "C" NOT NULL
);

CREATE TABLE scales (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "scale" text COLLATE "C" NOT NULL,
    "location" text COLLATE "C",
    "class" text COLLATE "C" NOT NULL,
    "capacity" text COLLATE "C" NOT NULL,
    "division" text COLLATE "C" NOT NULL,
    "unit" text COLLATE "C" NOT NULL,
    "certified_on" text COLLATE "C",
    "certified_until" text COLLATE "C"
);

CREATE TABLE covers (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "registration" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "grower" text COLLATE "C" NOT NULL,
    "site" text COLLATE "C" NOT NULL,
    "cover" text COLLATE "C" NOT NULL,
    "structure" text COLLATE "C",
    "length_ft" text COLLATE "C",
    "width_ft" text COLLATE "C",
    "rise_ft" text COLLATE "C",
    "layers" text COLLATE "C",
    "film" text COLLATE "C",
    "mil" text COLLATE "C"
);

CREATE TABLE bundles (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "bundle" text COLLATE "C" NOT NULL,
    "registration" text COLLATE "C" NOT NULL,
    "number" text COLLATE "C" NOT NULL,
    "of" text COLLATE "C" NOT NULL,
    "estimate" text COLLATE "C",
    "unit" text COLLATE "C",
    estimate_thousandths bigint
);

CREATE TABLE receipts (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "receipt" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "site" text COLLATE "C" NOT NULL,
    "bundle" text COLLATE "C",
    "registration" text COLLATE "C",
    "number" text COLLATE "C",
    "outcome" text COLLATE "C" NOT NULL,
    "reason" text COLLATE "C",
    "disposition" text COLLATE "C",
    "received_by" text COLLATE "C"
);

CREATE TABLE hauls (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "haul" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "from" text COLLATE "C" NOT NULL,
    "to" text COLLATE "C" NOT NULL,
    "bundle" text COLLATE "C" NOT NULL,
    "driver" text COLLATE "C"
);

CREATE TABLE bales (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "bale" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "site" text COLLATE "C" NOT NULL,
    "bundle" text COLLATE "C" NOT NULL
);

CREATE TABLE rejects (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "reject" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "stage" text COLLATE "C" NOT NULL,
    "bundle" text COLLATE "C",
    "bale" text COLLATE "C",
    "weight" text COLLATE "C",
    "unit" text COLLATE "C",
    "reason" text COLLATE "C" NOT NULL,
    "disposition" text COLLATE "C",
    "document" text COLLATE "C",
    weight_thousandths bigint
);

CREATE TABLE shipments (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "shipment" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "processor" text COLLATE "C" NOT NULL,
    "bale" text COLLATE "C" NOT NULL,
    "carrier" text COLLATE "C",
    "bill_of_lading" text COLLATE "C"
);

CREATE TABLE tickets (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "ticket" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "scale" text COLLATE "C" NOT NULL,
    "weighs" text COLLATE "C" NOT NULL,
    "subject" text COLLATE "C" NOT NULL,
    "gross" text COLLATE "C",
    "tare" text COLLATE "C",
    "net" text COLLATE "C" NOT NULL,
    "unit" text COLLATE "C" NOT NULL,
    "weigher" text COLLATE "C",
    "entry" text COLLATE "C" NOT NULL,
    "as_printed" text COLLATE "C",
    "document" text COLLATE "C",
    net_thousandths bigint
);

CREATE TABLE acceptances (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "shipment" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "weight" text COLLATE "C" NOT NULL,
    "unit" text COLLATE "C" NOT NULL,
    "document" text COLLATE "C",
    weight_thousandths bigint,
    "received" text COLLATE "C",
    "rejected" text COLLATE "C",
    "reason" text COLLATE "C",
    "price" text COLLATE "C",
    "charge" text COLLATE "C",
    "per" text COLLATE "C"
);

CREATE TABLE budget (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "category" text COLLATE "C" NOT NULL,
    "grant" text COLLATE "C" NOT NULL,
    "match" text COLLATE "C" NOT NULL,
    grant_cents bigint,
    match_cents bigint
);

CREATE TABLE costs (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "cost" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "category" text COLLATE "C" NOT NULL,
    "description" text COLLATE "C" NOT NULL,
    "payee" text COLLATE "C",
    "amount" text COLLATE "C" NOT NULL,
    "fund" text COLLATE "C" NOT NULL,
    "source" text COLLATE "C",
    "subaward" text COLLATE "C",
    "paid_on" text COLLATE "C",
    "document" text COLLATE "C",
    amount_cents bigint,
    "base" text COLLATE "C",
    "purpose" text COLLATE "C",
    "site" text COLLATE "C",
    "shipment" text COLLATE "C",
    "disallows" text COLLATE "C"
);

CREATE TABLE inkind (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "inkind" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "kind" text COLLATE "C" NOT NULL,
    "giver" text COLLATE "C" NOT NULL,
    "site" text COLLATE "C",
    "source" text COLLATE "C",
    "quantity" text COLLATE "C" NOT NULL,
    "rate" text COLLATE "C" NOT NULL,
    "amount" text COLLATE "C",
    "document" text COLLATE "C",
    value_cents bigint,
    "category" text COLLATE "C",
    "purpose" text COLLATE "C"
);

CREATE TABLE settings (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "setting" text COLLATE "C" NOT NULL,
    "from" text COLLATE "C",
    "value" text COLLATE "C" NOT NULL
);

CREATE TABLE amendments (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "amendment" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "ends" text COLLATE "C",
    "goal_tons" text COLLATE "C",
    "match_percent" text COLLATE "C",
    "match_base" text COLLATE "C",
    "indirect_percent" text COLLATE "C",
    "description" text COLLATE "C" NOT NULL,
    "document" text COLLATE "C"
);

CREATE TABLE rebudgets (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "amendment" text COLLATE "C" NOT NULL,
    "category" text COLLATE "C" NOT NULL,
    "grant" text COLLATE "C" NOT NULL,
    "match" text COLLATE "C" NOT NULL,
    grant_cents bigint,
    match_cents bigint
);

CREATE TABLE closings (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "quarter" text COLLATE "C" NOT NULL,
    "as_of" text COLLATE "C" NOT NULL,
    "head_hash" text COLLATE "C" NOT NULL,
    "prepared_by" text COLLATE "C" NOT NULL,
    "reviewed_by" text COLLATE "C" NOT NULL,
    "certified_by" text COLLATE "C" NOT NULL,
    "accepted" text COLLATE "C",
    "figures" text COLLATE "C" NOT NULL,
    "early" text COLLATE "C",
    "withdrawn" text COLLATE "C",
    "over_open" text COLLATE "C"
);

CREATE TABLE documents (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "record" text COLLATE "C" NOT NULL,
    "sha256" text COLLATE "C" NOT NULL,
    "name" text COLLATE "C" NOT NULL,
    "bytes" text COLLATE "C" NOT NULL
);

CREATE TABLE erasures (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "grower" text COLLATE "C" NOT NULL,
    "entries" text COLLATE "C" NOT NULL
);

CREATE TABLE rates (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "rate" text COLLATE "C" NOT NULL,
    "kind" text COLLATE "C" NOT NULL,
    "what" text COLLATE "C",
    "begins" text COLLATE "C" NOT NULL,
    "value" text COLLATE "C" NOT NULL,
    "source" text COLLATE "C" NOT NULL
);

CREATE TABLE obligations (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "obligation" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "category" text COLLATE "C" NOT NULL,
    "description" text COLLATE "C" NOT NULL,
    "payee" text COLLATE "C",
    "amount" text COLLATE "C" NOT NULL,
    "fund" text COLLATE "C" NOT NULL,
    "document" text COLLATE "C",
    amount_cents bigint
);

CREATE TABLE liquidations (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "liquidation" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "obligation" text COLLATE "C" NOT NULL,
    "amount" text COLLATE "C" NOT NULL,
    "cost" text COLLATE "C",
    amount_cents bigint
);

CREATE TABLE income (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "income" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "kind" text COLLATE "C" NOT NULL,
    "method" text COLLATE "C" NOT NULL,
    "description" text COLLATE "C" NOT NULL,
    "party" text COLLATE "C",
    "amount" text COLLATE "C" NOT NULL,
    "cost" text COLLATE "C",
    "document" text COLLATE "C",
    amount_cents bigint,
    "shipment" text COLLATE "C"
);

CREATE TABLE requests (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "request" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "cost" text COLLATE "C" NOT NULL,
    "indirect" text COLLATE "C",
    "document" text COLLATE "C",
    indirect_cents bigint
);

CREATE TABLE payments (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "payment" text COLLATE "C" NOT NULL,
    "date" text COLLATE "C" NOT NULL,
    "kind" text COLLATE "C" NOT NULL,
    "amount" text COLLATE "C" NOT NULL,
    "request" text COLLATE "C",
    "retained" text COLLATE "C",
    "document" text COLLATE "C",
    amount_cents bigint,
    retained_cents bigint
);

CREATE TABLE narrative (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "quarter" text COLLATE "C" NOT NULL,
    "part" text COLLATE "C" NOT NULL,
    "text" text COLLATE "C" NOT NULL
);

CREATE TABLE confirmations (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "confirms" text COLLATE "C" NOT NULL,
    "record" text COLLATE "C" NOT NULL,
    "seen" text COLLATE "C" NOT NULL
);

CREATE TABLE maps (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "map" text COLLATE "C" NOT NULL,
    "rule" text COLLATE "C" NOT NULL,
    "value" text COLLATE "C" NOT NULL
);

CREATE TABLE merges (
    seq bigint PRIMARY KEY REFERENCES journal (seq),
    "grower" text COLLATE "C" NOT NULL,
    "into" text COLLATE "C" NOT NULL,
    "reason" text COLLATE "C" NOT NULL
);

CREATE UNIQUE INDEX journal_replaces ON journal (replaces) WHERE replaces IS NOT NULL;
CREATE INDEX award_by_award ON award ("award");
CREATE INDEX sites_by_site ON sites ("site");
CREATE INDEX growers_by_grower ON growers ("grower");
CREATE INDEX scales_by_scale ON scales ("scale");
CREATE INDEX covers_by_registration ON covers ("registration");
CREATE INDEX covers_by_grower ON covers ("grower");
CREATE INDEX covers_by_site ON covers ("site");
CREATE INDEX bundles_by_bundle ON bundles ("bundle");
CREATE INDEX bundles_by_registration ON bundles ("registration");
CREATE INDEX receipts_by_receipt ON receipts ("receipt");
CREATE INDEX receipts_by_bundle ON receipts ("bundle") WHERE "bundle" IS NOT NULL;
CREATE INDEX receipts_by_registration ON receipts ("registration") WHERE "registration" IS NOT NULL;
CREATE INDEX receipts_by_site ON receipts ("site");
CREATE INDEX hauls_by_haul ON hauls ("haul");
CREATE INDEX hauls_by_bundle ON hauls ("bundle");
CREATE INDEX hauls_by_from ON hauls ("from");
CREATE INDEX hauls_by_to ON hauls ("to");
CREATE INDEX bales_by_bale ON bales ("bale");
CREATE INDEX bales_by_bundle ON bales ("bundle");
CREATE INDEX bales_by_site ON bales ("site");
CREATE INDEX rejects_by_reject ON rejects ("reject");
CREATE INDEX rejects_by_bundle ON rejects ("bundle") WHERE "bundle" IS NOT NULL;
CREATE INDEX rejects_by_bale ON rejects ("bale") WHERE "bale" IS NOT NULL;
CREATE INDEX shipments_by_shipment ON shipments ("shipment");
CREATE INDEX shipments_by_bale ON shipments ("bale");
CREATE INDEX tickets_by_ticket ON tickets ("ticket");
CREATE INDEX tickets_by_subject ON tickets ("subject");
CREATE INDEX tickets_by_scale ON tickets ("scale");
CREATE INDEX acceptances_by_shipment ON acceptances ("shipment");
CREATE INDEX budget_by_category ON budget ("category");
CREATE INDEX costs_by_cost ON costs ("cost");
CREATE INDEX inkind_by_inkind ON inkind ("inkind");
CREATE INDEX inkind_by_site ON inkind ("site") WHERE "site" IS NOT NULL;
CREATE INDEX settings_by_setting ON settings ("setting");
CREATE INDEX amendments_by_amendment ON amendments ("amendment");
CREATE INDEX rebudgets_by_amendment ON rebudgets ("amendment");
CREATE INDEX rates_by_rate ON rates ("rate");
CREATE INDEX obligations_by_obligation ON obligations ("obligation");
CREATE INDEX liquidations_by_liquidation ON liquidations ("liquidation");
CREATE INDEX liquidations_by_obligation ON liquidations ("obligation");
CREATE INDEX liquidations_by_cost ON liquidations ("cost") WHERE "cost" IS NOT NULL;
CREATE INDEX income_by_income ON income ("income");
CREATE INDEX income_by_cost ON income ("cost") WHERE "cost" IS NOT NULL;
CREATE INDEX requests_by_request ON requests ("request");
CREATE INDEX requests_by_cost ON requests ("cost");
CREATE INDEX payments_by_payment ON payments ("payment");
CREATE INDEX payments_by_request ON payments ("request") WHERE "request" IS NOT NULL;
CREATE INDEX narrative_by_quarter ON narrative ("quarter");
CREATE INDEX closings_by_quarter ON closings ("quarter");
CREATE INDEX documents_by_record ON documents ("record");
CREATE INDEX erasures_by_grower ON erasures ("grower");
CREATE INDEX confirmations_by_confirms ON confirmations ("confirms");
CREATE INDEX confirmations_by_record ON confirmations ("record");
CREATE INDEX maps_by_map ON maps ("map");
CREATE INDEX merges_by_grower ON merges ("grower");
CREATE INDEX merges_by_into ON merges ("into");
CREATE INDEX costs_by_site ON costs ("site");
CREATE INDEX costs_by_shipment ON costs ("shipment");
CREATE INDEX income_by_shipment ON income ("shipment");
CREATE INDEX costs_by_disallows ON costs ("disallows");

-- Append only, whoever asks: the owner too, and also where session_replication_role is 'replica'.
CREATE FUNCTION only_grows() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    RAISE EXCEPTION 'the ledger only grows: correct or void the record';
END
$$;
CREATE FUNCTION only_erased() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
    IF NEW.seq <> OLD.seq OR coalesce(NEW.salt, NEW.name, NEW.farm, NEW.email, NEW.phone) IS NOT NULL THEN
        RAISE EXCEPTION 'contact details are erased whole or left alone';
    END IF;
    RETURN NEW;
END
$$;
CREATE TRIGGER schema_versions_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON schema_versions FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE schema_versions ENABLE ALWAYS TRIGGER schema_versions_only_grows;
CREATE TRIGGER document_content_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON document_content FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE document_content ENABLE ALWAYS TRIGGER document_content_only_grows;
CREATE TRIGGER turn_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON turn FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE turn ENABLE ALWAYS TRIGGER turn_only_grows;
CREATE TRIGGER act_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON act FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE act ENABLE ALWAYS TRIGGER act_only_grows;
CREATE TRIGGER journal_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON journal FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE journal ENABLE ALWAYS TRIGGER journal_only_grows;
CREATE TRIGGER contact_only_erased BEFORE UPDATE ON contact FOR EACH ROW EXECUTE FUNCTION only_erased();
ALTER TABLE contact ENABLE ALWAYS TRIGGER contact_only_erased;
CREATE TRIGGER contact_only_grows BEFORE DELETE OR TRUNCATE ON contact FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE contact ENABLE ALWAYS TRIGGER contact_only_grows;
CREATE TRIGGER award_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON award FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE award ENABLE ALWAYS TRIGGER award_only_grows;
CREATE TRIGGER sites_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON sites FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE sites ENABLE ALWAYS TRIGGER sites_only_grows;
CREATE TRIGGER growers_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON growers FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE growers ENABLE ALWAYS TRIGGER growers_only_grows;
CREATE TRIGGER scales_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON scales FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE scales ENABLE ALWAYS TRIGGER scales_only_grows;
CREATE TRIGGER covers_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON covers FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE covers ENABLE ALWAYS TRIGGER covers_only_grows;
CREATE TRIGGER bundles_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON bundles FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE bundles ENABLE ALWAYS TRIGGER bundles_only_grows;
CREATE TRIGGER receipts_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON receipts FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE receipts ENABLE ALWAYS TRIGGER receipts_only_grows;
CREATE TRIGGER hauls_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON hauls FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE hauls ENABLE ALWAYS TRIGGER hauls_only_grows;
CREATE TRIGGER bales_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON bales FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE bales ENABLE ALWAYS TRIGGER bales_only_grows;
CREATE TRIGGER rejects_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON rejects FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE rejects ENABLE ALWAYS TRIGGER rejects_only_grows;
CREATE TRIGGER shipments_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON shipments FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE shipments ENABLE ALWAYS TRIGGER shipments_only_grows;
CREATE TRIGGER tickets_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON tickets FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE tickets ENABLE ALWAYS TRIGGER tickets_only_grows;
CREATE TRIGGER acceptances_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON acceptances FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE acceptances ENABLE ALWAYS TRIGGER acceptances_only_grows;
CREATE TRIGGER budget_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON budget FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE budget ENABLE ALWAYS TRIGGER budget_only_grows;
CREATE TRIGGER costs_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON costs FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE costs ENABLE ALWAYS TRIGGER costs_only_grows;
CREATE TRIGGER inkind_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON inkind FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE inkind ENABLE ALWAYS TRIGGER inkind_only_grows;
CREATE TRIGGER settings_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON settings FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE settings ENABLE ALWAYS TRIGGER settings_only_grows;
CREATE TRIGGER amendments_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON amendments FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE amendments ENABLE ALWAYS TRIGGER amendments_only_grows;
CREATE TRIGGER rebudgets_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON rebudgets FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE rebudgets ENABLE ALWAYS TRIGGER rebudgets_only_grows;
CREATE TRIGGER closings_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON closings FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE closings ENABLE ALWAYS TRIGGER closings_only_grows;
CREATE TRIGGER documents_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON documents FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE documents ENABLE ALWAYS TRIGGER documents_only_grows;
CREATE TRIGGER erasures_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON erasures FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE erasures ENABLE ALWAYS TRIGGER erasures_only_grows;
CREATE TRIGGER rates_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON rates FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE rates ENABLE ALWAYS TRIGGER rates_only_grows;
CREATE TRIGGER obligations_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON obligations FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE obligations ENABLE ALWAYS TRIGGER obligations_only_grows;
CREATE TRIGGER liquidations_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON liquidations FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE liquidations ENABLE ALWAYS TRIGGER liquidations_only_grows;
CREATE TRIGGER income_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON income FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE income ENABLE ALWAYS TRIGGER income_only_grows;
CREATE TRIGGER requests_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON requests FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE requests ENABLE ALWAYS TRIGGER requests_only_grows;
CREATE TRIGGER payments_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON payments FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE payments ENABLE ALWAYS TRIGGER payments_only_grows;
CREATE TRIGGER narrative_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON narrative FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE narrative ENABLE ALWAYS TRIGGER narrative_only_grows;
CREATE TRIGGER confirmations_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON confirmations FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE confirmations ENABLE ALWAYS TRIGGER confirmations_only_grows;
CREATE TRIGGER maps_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON maps FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE maps ENABLE ALWAYS TRIGGER maps_only_grows;
CREATE TRIGGER merges_only_grows BEFORE UPDATE OR DELETE OR TRUNCATE ON merges FOR EACH STATEMENT EXECUTE FUNCTION only_grows();
ALTER TABLE merges ENABLE ALWAYS TRIGGER merges_only_grows;

-- What is in force now: neither replaced by a correction nor voided.
CREATE VIEW award_in_force AS SELECT * FROM award
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = award.seq);
CREATE VIEW sites_in_force AS SELECT * FROM sites
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = sites.seq);
CREATE VIEW growers_in_force AS SELECT * FROM growers
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = growers.seq);
CREATE VIEW scales_in_force AS SELECT * FROM scales
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = scales.seq);
CREATE VIEW covers_in_force AS SELECT * FROM covers
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = covers.seq);
CREATE VIEW bundles_in_force AS SELECT * FROM bundles
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = bundles.seq);
CREATE VIEW receipts_in_force AS SELECT * FROM receipts
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = receipts.seq);
CREATE VIEW hauls_in_force AS SELECT * FROM hauls
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = hauls.seq);
CREATE VIEW bales_in_force AS SELECT * FROM bales
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = bales.seq);
CREATE VIEW rejects_in_force AS SELECT * FROM rejects
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = rejects.seq);
CREATE VIEW shipments_in_force AS SELECT * FROM shipments
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = shipments.seq);
CREATE VIEW tickets_in_force AS SELECT * FROM tickets
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = tickets.seq);
CREATE VIEW acceptances_in_force AS SELECT * FROM acceptances
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = acceptances.seq);
CREATE VIEW budget_in_force AS SELECT * FROM budget
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = budget.seq);
CREATE VIEW costs_in_force AS SELECT * FROM costs
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = costs.seq);
CREATE VIEW inkind_in_force AS SELECT * FROM inkind
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = inkind.seq);
CREATE VIEW settings_in_force AS SELECT * FROM settings
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = settings.seq);
CREATE VIEW amendments_in_force AS SELECT * FROM amendments
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = amendments.seq);
CREATE VIEW rebudgets_in_force AS SELECT * FROM rebudgets
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = rebudgets.seq);
CREATE VIEW closings_in_force AS SELECT * FROM closings
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = closings.seq);
CREATE VIEW documents_in_force AS SELECT * FROM documents
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = documents.seq);
CREATE VIEW erasures_in_force AS SELECT * FROM erasures
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = erasures.seq);
CREATE VIEW rates_in_force AS SELECT * FROM rates
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = rates.seq);
CREATE VIEW obligations_in_force AS SELECT * FROM obligations
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = obligations.seq);
CREATE VIEW liquidations_in_force AS SELECT * FROM liquidations
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = liquidations.seq);
CREATE VIEW income_in_force AS SELECT * FROM income
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = income.seq);
CREATE VIEW requests_in_force AS SELECT * FROM requests
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = requests.seq);
CREATE VIEW payments_in_force AS SELECT * FROM payments
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = payments.seq);
CREATE VIEW narrative_in_force AS SELECT * FROM narrative
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = narrative.seq);
CREATE VIEW confirmations_in_force AS SELECT * FROM confirmations
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = confirmations.seq);
CREATE VIEW maps_in_force AS SELECT * FROM maps
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = maps.seq);
CREATE VIEW merges_in_force AS SELECT * FROM merges
    WHERE NOT EXISTS (SELECT 1 FROM journal WHERE journal.replaces = merges.seq);

INSERT INTO schema_versions VALUES (11);
