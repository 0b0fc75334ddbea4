-- Why a quarter was closed before it was over, and which closing of it was withdrawn before. They stand last and are
-- hashed by name where they are given (README.md), so closings from before keep their hash.

ALTER TABLE closings ADD COLUMN "early" TEXT;
ALTER TABLE closings ADD COLUMN "withdrawn" TEXT;
