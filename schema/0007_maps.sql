-- How other people's sheets are laid out: a map's rules, each a name and a value, so that a change of one is an entry.

CREATE TABLE maps (
    seq INTEGER PRIMARY KEY REFERENCES journal (seq),
    "map" TEXT NOT NULL,
    "rule" TEXT NOT NULL,          -- "dates", "growers.name", "unit.covers-2.length_ft"
    "value" TEXT NOT NULL
) STRICT;
CREATE TRIGGER maps_no_update BEFORE UPDATE ON maps BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE TRIGGER maps_no_delete BEFORE DELETE ON maps BEGIN SELECT RAISE(ABORT, 'the ledger only grows: correct or void the record'); END;
CREATE VIEW maps_in_force AS SELECT * FROM maps
    WHERE seq NOT IN (SELECT replaces FROM journal WHERE replaces IS NOT NULL);
CREATE INDEX maps_by_map ON maps ("map");
