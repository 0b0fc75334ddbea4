-- Amendments of the award and its budget, closings of quarters, hashes of source documents kept beside the
-- ledger, and erasures of contact details.

CREATE TABLE amendments (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "amendment" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "ends" TEXT,
    "goal_tons" TEXT,
    "match_percent" TEXT,
    "match_base" TEXT,
    "indirect_percent" TEXT,
    "description" TEXT NOT NULL,
    "document" TEXT
) STRICT;
CREATE TRIGGER amendments_no_update BEFORE UPDATE ON amendments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER amendments_no_delete BEFORE DELETE ON amendments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW amendments_in_force AS SELECT * FROM amendments
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE rebudgets (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "amendment" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "grant" TEXT NOT NULL,
    "match" TEXT NOT NULL,
    grant_cents INTEGER,
    match_cents INTEGER
) STRICT;
CREATE TRIGGER rebudgets_no_update BEFORE UPDATE ON rebudgets BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER rebudgets_no_delete BEFORE DELETE ON rebudgets BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW rebudgets_in_force AS SELECT * FROM rebudgets
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE closings (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "quarter" TEXT NOT NULL,
    "as_of" TEXT NOT NULL,
    "head_hash" TEXT NOT NULL,
    "prepared_by" TEXT NOT NULL,
    "reviewed_by" TEXT NOT NULL,
    "certified_by" TEXT NOT NULL,
    "accepted" TEXT,
    "figures" TEXT NOT NULL
) STRICT;
CREATE TRIGGER closings_no_update BEFORE UPDATE ON closings BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER closings_no_delete BEFORE DELETE ON closings BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW closings_in_force AS SELECT * FROM closings
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE documents (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "record" TEXT NOT NULL,
    "sha256" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "bytes" TEXT NOT NULL
) STRICT;
CREATE TRIGGER documents_no_update BEFORE UPDATE ON documents BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER documents_no_delete BEFORE DELETE ON documents BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW documents_in_force AS SELECT * FROM documents
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE erasures (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "grower" TEXT NOT NULL,
    "entries" TEXT NOT NULL
) STRICT;
CREATE TRIGGER erasures_no_update BEFORE UPDATE ON erasures BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER erasures_no_delete BEFORE DELETE ON erasures BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW erasures_in_force AS SELECT * FROM erasures
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
