-- The ledger only grows. An act is what somebody did at one moment; each fact of it is one entry of
-- the journal, chained to the entry before it by its hash (see README.md in this folder). A table for
-- each kind of record holds the values as written, and beside them the whole numbers that are summed:
-- thousandths of the award's unit, cents.

CREATE TABLE act (
    act INTEGER PRIMARY KEY,
    at TEXT NOT NULL,               -- UTC, 2026-05-14T09:30:00Z
    who TEXT NOT NULL,
    command TEXT NOT NULL,          -- what was done: intake, record, correct, void, ...
    reason TEXT,
    once TEXT UNIQUE,               -- idempotency key: the same key again changes nothing
    source TEXT,                    -- the file's name
    source_sha256 TEXT
) STRICT;

CREATE TABLE journal (
    seq INTEGER PRIMARY KEY,
    act INTEGER NOT NULL REFERENCES act (act),
    kind TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed IN ('record', 'correct', 'void', 'erase')),
    replaces INTEGER REFERENCES journal (seq),
    effective TEXT,                 -- the day that the fact belongs to, where it has one
    line INTEGER,                   -- of the source file
    hash BLOB NOT NULL CHECK (length(hash) = 32)
) STRICT;

CREATE UNIQUE INDEX journal_replaces ON journal (replaces) WHERE replaces IS NOT NULL;

-- What people asked to have forgotten can be set to NULL here, and nothing else changed. The journal's
-- hash holds only a salted digest of it.
CREATE TABLE contact (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    salt TEXT,
    name TEXT,
    farm TEXT,
    email TEXT,
    phone TEXT
) STRICT;

CREATE TABLE award (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "award" TEXT NOT NULL,
    "agency" TEXT NOT NULL,
    "program" TEXT NOT NULL,
    "region" TEXT NOT NULL,
    "begins" TEXT NOT NULL,
    "ends" TEXT NOT NULL,
    "goal_tons" TEXT NOT NULL,
    "quarter_starts" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "match_percent" TEXT,
    "match_base" TEXT,
    "indirect_percent" TEXT,
    "counted_when" TEXT
) STRICT;

CREATE TABLE sites (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "site" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "town" TEXT,
    "host" TEXT,
    "opens" TEXT,
    "closes" TEXT,
    "capacity_lb" TEXT
) STRICT;

CREATE TABLE growers (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "grower" TEXT NOT NULL,
    "town" TEXT,
    "region" TEXT NOT NULL,
    contact_digest TEXT NOT NULL
) STRICT;

CREATE TABLE scales (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "scale" TEXT NOT NULL,
    "location" TEXT,
    "class" TEXT NOT NULL,
    "capacity" TEXT NOT NULL,
    "division" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "certified_on" TEXT,
    "certified_until" TEXT
) STRICT;

CREATE TABLE covers (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "registration" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "grower" TEXT NOT NULL,
    "site" TEXT NOT NULL,
    "cover" TEXT NOT NULL,
    "structure" TEXT,
    "length_ft" TEXT,
    "width_ft" TEXT,
    "rise_ft" TEXT,
    "layers" TEXT,
    "film" TEXT,
    "mil" TEXT
) STRICT;

CREATE TABLE bundles (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "bundle" TEXT NOT NULL,
    "registration" TEXT NOT NULL,
    "number" TEXT NOT NULL,
    "of" TEXT NOT NULL,
    "estimate" TEXT,
    "unit" TEXT,
    estimate_thousandths INTEGER
) STRICT;

CREATE TABLE receipts (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "receipt" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "site" TEXT NOT NULL,
    "bundle" TEXT,
    "registration" TEXT,
    "number" TEXT,
    "outcome" TEXT NOT NULL,
    "reason" TEXT,
    "disposition" TEXT,
    "received_by" TEXT
) STRICT;

CREATE TABLE hauls (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "haul" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "from" TEXT NOT NULL,
    "to" TEXT NOT NULL,
    "bundle" TEXT NOT NULL,
    "driver" TEXT
) STRICT;

CREATE TABLE bales (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "bale" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "site" TEXT NOT NULL,
    "bundle" TEXT NOT NULL
) STRICT;

CREATE TABLE rejects (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "reject" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "stage" TEXT NOT NULL,
    "bundle" TEXT,
    "bale" TEXT,
    "weight" TEXT,
    "unit" TEXT,
    "reason" TEXT NOT NULL,
    "disposition" TEXT,
    "document" TEXT,
    weight_thousandths INTEGER
) STRICT;

CREATE TABLE shipments (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "shipment" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "processor" TEXT NOT NULL,
    "bale" TEXT NOT NULL,
    "carrier" TEXT,
    "bill_of_lading" TEXT
) STRICT;

CREATE TABLE tickets (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "ticket" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "scale" TEXT NOT NULL,
    "weighs" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "gross" TEXT,
    "tare" TEXT,
    "net" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "weigher" TEXT,
    "entry" TEXT NOT NULL,
    "as_printed" TEXT,
    "document" TEXT,
    net_thousandths INTEGER
) STRICT;

CREATE TABLE acceptances (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "shipment" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "weight" TEXT NOT NULL,
    "unit" TEXT NOT NULL,
    "document" TEXT,
    weight_thousandths INTEGER
) STRICT;

CREATE TABLE budget (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "category" TEXT NOT NULL,
    "grant" TEXT NOT NULL,
    "match" TEXT NOT NULL,
    grant_cents INTEGER,
    match_cents INTEGER
) STRICT;

CREATE TABLE costs (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "cost" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "payee" TEXT,
    "amount" TEXT NOT NULL,
    "fund" TEXT NOT NULL,
    "source" TEXT,
    "subaward" TEXT,
    "paid_on" TEXT,
    "document" TEXT,
    amount_cents INTEGER
) STRICT;

CREATE TABLE inkind (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "inkind" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "giver" TEXT NOT NULL,
    "site" TEXT,
    "source" TEXT,
    "quantity" TEXT NOT NULL,
    "rate" TEXT NOT NULL,
    "amount" TEXT,
    "document" TEXT,
    value_cents INTEGER
) STRICT;

CREATE TABLE settings (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "setting" TEXT NOT NULL,
    "from" TEXT,
    "value" TEXT NOT NULL
) STRICT;

-- Append only. recursive_triggers makes INSERT OR REPLACE fire these too.
CREATE TRIGGER act_no_update BEFORE UPDATE ON act BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER act_no_delete BEFORE DELETE ON act BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER contact_only_erased BEFORE UPDATE ON contact
WHEN NEW.seq IS NOT OLD.seq OR coalesce(NEW.salt, NEW.name, NEW.farm, NEW.email, NEW.phone) IS NOT NULL
BEGIN SELECT RAISE(ABORT, 'contact details are erased whole or left alone'); END;
CREATE TRIGGER contact_no_delete BEFORE DELETE ON contact BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER award_no_update BEFORE UPDATE ON award BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER award_no_delete BEFORE DELETE ON award BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER sites_no_update BEFORE UPDATE ON sites BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER sites_no_delete BEFORE DELETE ON sites BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER growers_no_update BEFORE UPDATE ON growers BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER growers_no_delete BEFORE DELETE ON growers BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER scales_no_update BEFORE UPDATE ON scales BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER scales_no_delete BEFORE DELETE ON scales BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER covers_no_update BEFORE UPDATE ON covers BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER covers_no_delete BEFORE DELETE ON covers BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER bundles_no_update BEFORE UPDATE ON bundles BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER bundles_no_delete BEFORE DELETE ON bundles BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER receipts_no_update BEFORE UPDATE ON receipts BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER receipts_no_delete BEFORE DELETE ON receipts BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER hauls_no_update BEFORE UPDATE ON hauls BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER hauls_no_delete BEFORE DELETE ON hauls BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER bales_no_update BEFORE UPDATE ON bales BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER bales_no_delete BEFORE DELETE ON bales BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER rejects_no_update BEFORE UPDATE ON rejects BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER rejects_no_delete BEFORE DELETE ON rejects BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER shipments_no_update BEFORE UPDATE ON shipments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER shipments_no_delete BEFORE DELETE ON shipments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER tickets_no_update BEFORE UPDATE ON tickets BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER tickets_no_delete BEFORE DELETE ON tickets BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER acceptances_no_update BEFORE UPDATE ON acceptances BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER acceptances_no_delete BEFORE DELETE ON acceptances BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER budget_no_update BEFORE UPDATE ON budget BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER budget_no_delete BEFORE DELETE ON budget BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER costs_no_update BEFORE UPDATE ON costs BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER costs_no_delete BEFORE DELETE ON costs BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER inkind_no_update BEFORE UPDATE ON inkind BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER inkind_no_delete BEFORE DELETE ON inkind BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER settings_no_update BEFORE UPDATE ON settings BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER settings_no_delete BEFORE DELETE ON settings BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;

-- What is in force now: neither replaced by a correction nor voided.
CREATE VIEW award_in_force AS SELECT * FROM award
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW sites_in_force AS SELECT * FROM sites
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW growers_in_force AS SELECT * FROM growers
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW scales_in_force AS SELECT * FROM scales
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW covers_in_force AS SELECT * FROM covers
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW bundles_in_force AS SELECT * FROM bundles
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW receipts_in_force AS SELECT * FROM receipts
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW hauls_in_force AS SELECT * FROM hauls
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW bales_in_force AS SELECT * FROM bales
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW rejects_in_force AS SELECT * FROM rejects
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW shipments_in_force AS SELECT * FROM shipments
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW tickets_in_force AS SELECT * FROM tickets
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW acceptances_in_force AS SELECT * FROM acceptances
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW budget_in_force AS SELECT * FROM budget
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW costs_in_force AS SELECT * FROM costs
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW inkind_in_force AS SELECT * FROM inkind
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE VIEW settings_in_force AS SELECT * FROM settings
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
