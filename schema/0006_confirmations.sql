-- What the office has looked at and found right (a ticket's paper, a registration's form), so that the audit takes it
-- for no slip.

CREATE TABLE confirmations (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "confirms" TEXT NOT NULL,
    "record" TEXT NOT NULL,
    "seen" TEXT NOT NULL           -- how: "with the scale house"
) STRICT;
CREATE TRIGGER confirmations_no_update BEFORE UPDATE ON confirmations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER confirmations_no_delete BEFORE DELETE ON confirmations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW confirmations_in_force AS SELECT * FROM confirmations
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE INDEX confirmations_by_confirms ON confirmations ("confirms");
CREATE INDEX confirmations_by_record ON confirmations ("record");
