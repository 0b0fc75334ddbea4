-- Columns that came later than their kinds (they stand last, and are hashed by name where they are given: README.md),
-- an index on each kind's id and on each column that names another record, so that one record's neighbourhood is
-- found without reading the season, and a journal whose check costs less: IN (...) built a tree for each row.

ALTER TABLE costs ADD COLUMN "base" TEXT;
ALTER TABLE inkind ADD COLUMN "category" TEXT;
ALTER TABLE acceptances ADD COLUMN "received" TEXT;
ALTER TABLE acceptances ADD COLUMN "rejected" TEXT;

-- The program opens a file of an older version with foreign keys off: every row's entry is in the new table as well.
PRAGMA legacy_alter_table = ON;
CREATE TABLE journal_4 (
    seq INTEGER PRIMARY KEY,
    act INTEGER NOT NULL REFERENCES act (act),
    kind TEXT NOT NULL,
    deed TEXT NOT NULL CHECK (deed = 'record' OR deed = 'correct' OR deed = 'void' OR deed = 'erase'),
    replaces INTEGER REFERENCES journal (seq),
    effective TEXT,                 -- the day that the fact belongs to, where it has one
    line INTEGER,                   -- of the source file
    hash BLOB NOT NULL CHECK (length(hash) = 32)
) STRICT;
INSERT INTO journal_4 SELECT seq, act, kind, deed, replaces, effective, line, hash FROM journal ORDER BY seq;
DROP TABLE journal;
ALTER TABLE journal_4 RENAME TO journal;
PRAGMA legacy_alter_table = OFF;
CREATE UNIQUE INDEX journal_replaces ON journal (replaces) WHERE replaces IS NOT NULL;
CREATE TRIGGER journal_no_update BEFORE UPDATE ON journal BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER journal_no_delete BEFORE DELETE ON journal BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;

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
