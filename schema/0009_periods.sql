-- A year and the whole award are closed like a quarter: why, where quarters of it were open. What a cost or an in-kind
-- contribution is for, and the site of a cost. They stand last and are hashed by name where they are given (README.md),
-- so entries from before keep their hash.

ALTER TABLE closings ADD COLUMN "over_open" TEXT;
ALTER TABLE costs ADD COLUMN "purpose" TEXT;
ALTER TABLE costs ADD COLUMN "site" TEXT;
ALTER TABLE inkind ADD COLUMN "purpose" TEXT;
CREATE INDEX costs_by_site ON costs ("site");
