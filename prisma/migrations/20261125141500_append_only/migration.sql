-- Money, audit and history are facts: they are added, never changed. The application has no code that would
-- change them; this holds against a mistake in a later one and against a person at the console.
CREATE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  RAISE EXCEPTION '% is append-only: % is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation', HINT = 'Add a correcting row instead.';
END
$$;

-- One trigger a table for each statement, so that even a change of no row is refused (TRUNCATE fires no row triggers).
CREATE TRIGGER "LedgerEntry_append_only" BEFORE UPDATE OR DELETE OR TRUNCATE ON "LedgerEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "AuditEntry_append_only" BEFORE UPDATE OR DELETE OR TRUNCATE ON "AuditEntry"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "LessonEvent_append_only" BEFORE UPDATE OR DELETE OR TRUNCATE ON "LessonEvent"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "ReplyEdit_append_only" BEFORE UPDATE OR DELETE OR TRUNCATE ON "ReplyEdit"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
