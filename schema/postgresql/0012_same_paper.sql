-- Tickets by the number printed on them, so that one recorded twice is noticed without reading the season.

CREATE INDEX tickets_by_document ON tickets ("document") WHERE "document" IS NOT NULL;
INSERT INTO schema_versions VALUES (12);
