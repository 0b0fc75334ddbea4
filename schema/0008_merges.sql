-- One person under two ids: what is registered for "grower" counts as "into"'s.

CREATE TABLE merges (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "grower" TEXT NOT NULL,
    "into" TEXT NOT NULL,
    "reason" TEXT NOT NULL
) STRICT;
CREATE TRIGGER merges_no_update BEFORE UPDATE ON merges BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER merges_no_delete BEFORE DELETE ON merges BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW merges_in_force AS SELECT * FROM merges
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE INDEX merges_by_grower ON merges ("grower");
CREATE INDEX merges_by_into ON merges ("into");
