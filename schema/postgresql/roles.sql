-- `tarewell ledger roles`, by the ledger's owner: who may enter, and who may only read. A person's own role is made a
-- member of one of the two (GRANT tarewell_entry TO maud). A group that is there already is left as it is.
DO $$
BEGIN
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'tarewell_reader') THEN
        CREATE ROLE tarewell_reader NOLOGIN;
    END IF;
    IF NOT EXISTS (SELECT 1 FROM pg_roles WHERE rolname = 'tarewell_entry') THEN
        CREATE ROLE tarewell_entry NOLOGIN;
    END IF;
END
$$;
REVOKE ALL ON ALL TABLES IN SCHEMA tarewell FROM tarewell_reader, tarewell_entry;
GRANT USAGE ON SCHEMA tarewell TO tarewell_reader, tarewell_entry;
GRANT SELECT ON ALL TABLES IN SCHEMA tarewell TO tarewell_reader, tarewell_entry;
DO $$
DECLARE each record;
BEGIN
    FOR each IN SELECT tablename FROM pg_tables WHERE schemaname = 'tarewell' AND tablename NOT IN ('schema_versions', 'turn')
    LOOP
        EXECUTE format('GRANT INSERT ON tarewell.%I TO tarewell_entry', each.tablename);
    END LOOP;
END
$$;
-- To blank them, which is all that the triggers let through; and to hold the turn, which nothing changes.
GRANT UPDATE (salt, name, farm, email, phone) ON tarewell.contact TO tarewell_entry;
GRANT UPDATE ON tarewell.turn TO tarewell_entry;
