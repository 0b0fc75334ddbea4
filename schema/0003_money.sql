-- Money besides costs and gifts (a table of in-kind rates, obligations and what was paid of them, program
-- income, reimbursement requests and the agency's payments), and the coordinator's paragraphs for a quarter.

CREATE TABLE rates (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "rate" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "what" TEXT,
    "begins" TEXT NOT NULL,
    "value" TEXT NOT NULL,
    "source" TEXT NOT NULL
) STRICT;
CREATE TRIGGER rates_no_update BEFORE UPDATE ON rates BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER rates_no_delete BEFORE DELETE ON rates BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW rates_in_force AS SELECT * FROM rates
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE obligations (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "obligation" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "category" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "payee" TEXT,
    "amount" TEXT NOT NULL,
    "fund" TEXT NOT NULL,
    "document" TEXT,
    amount_cents INTEGER
) STRICT;
CREATE TRIGGER obligations_no_update BEFORE UPDATE ON obligations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER obligations_no_delete BEFORE DELETE ON obligations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW obligations_in_force AS SELECT * FROM obligations
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE liquidations (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "liquidation" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "obligation" TEXT NOT NULL,
    "amount" TEXT NOT NULL,
    "cost" TEXT,
    amount_cents INTEGER
) STRICT;
CREATE TRIGGER liquidations_no_update BEFORE UPDATE ON liquidations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER liquidations_no_delete BEFORE DELETE ON liquidations BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW liquidations_in_force AS SELECT * FROM liquidations
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE income (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "income" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "description" TEXT NOT NULL,
    "party" TEXT,
    "amount" TEXT NOT NULL,
    "cost" TEXT,
    "document" TEXT,
    amount_cents INTEGER
) STRICT;
CREATE TRIGGER income_no_update BEFORE UPDATE ON income BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER income_no_delete BEFORE DELETE ON income BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW income_in_force AS SELECT * FROM income
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE requests (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "request" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "cost" TEXT NOT NULL,
    "indirect" TEXT,
    "document" TEXT,
    indirect_cents INTEGER
) STRICT;
CREATE TRIGGER requests_no_update BEFORE UPDATE ON requests BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER requests_no_delete BEFORE DELETE ON requests BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW requests_in_force AS SELECT * FROM requests
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE payments (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "payment" TEXT NOT NULL,
    "date" TEXT NOT NULL,
    "kind" TEXT NOT NULL,
    "amount" TEXT NOT NULL,
    "request" TEXT,
    "retained" TEXT,
    "document" TEXT,
    amount_cents INTEGER,
    retained_cents INTEGER
) STRICT;
CREATE TRIGGER payments_no_update BEFORE UPDATE ON payments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER payments_no_delete BEFORE DELETE ON payments BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW payments_in_force AS SELECT * FROM payments
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);

CREATE TABLE narrative (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "quarter" TEXT NOT NULL,
    "part" TEXT NOT NULL,
    "text" TEXT NOT NULL
) STRICT;
CREATE TRIGGER narrative_no_update BEFORE UPDATE ON narrative BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER narrative_no_delete BEFORE DELETE ON narrative BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW narrative_in_force AS SELECT * FROM narrative
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
