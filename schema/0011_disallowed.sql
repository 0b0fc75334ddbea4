-- The cost that a credit takes back, where the agency disallowed it. It stands last and is hashed by name where it is given
-- (README.md), so entries from before keep their hash.

ALTER TABLE costs ADD COLUMN "disallows" TEXT;
CREATE INDEX costs_by_disallows ON costs ("disallows");
