-- Consents, checks and concerns are facts. Nothing of them is edited but their end, and that once.
CREATE FUNCTION refuse_but_ending() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  ending text[] := TG_ARGV;
BEGIN
  IF TG_OP = 'UPDATE'
    AND to_jsonb(OLD) - ending = to_jsonb(NEW) - ending
    AND to_jsonb(OLD) -> TG_ARGV[0] = 'null'::jsonb
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% keeps its history: % is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation', HINT = 'End it, and add a new row.';
END
$$;

CREATE TRIGGER "Consent_history" BEFORE UPDATE OR DELETE ON "Consent"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_ending('withdrawnAt');
CREATE TRIGGER "Clearance_history" BEFORE UPDATE OR DELETE ON "Clearance"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_ending('revokedAt');
CREATE TRIGGER "Concern_history" BEFORE UPDATE OR DELETE ON "Concern"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_ending('closedAt', 'closedById', 'outcome');
CREATE TRIGGER "Consent_truncate" BEFORE TRUNCATE ON "Consent"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Clearance_truncate" BEFORE TRUNCATE ON "Clearance"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
CREATE TRIGGER "Concern_truncate" BEFORE TRUNCATE ON "Concern"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();

-- What guardians had agreed to before consents were kept in a table of their own: it holds a year from then.
INSERT INTO "Consent" (id, "programId", "playerId", "byId", scope, version, method, "givenAt", "expiresAt")
SELECT gen_random_uuid(), place."programId", g."playerId", g."guardianId", 'lessons', g."consentVersion",
  coalesce(g."consentMethod", 'program-invitation'), g."createdAt", g."createdAt" + interval '1 year'
FROM "Guardianship" g
JOIN "Membership" place ON place."personId" = g."playerId" AND place.role = 'player'
JOIN "Membership" beside ON beside."personId" = g."guardianId" AND beside.role = 'guardian'
  AND beside."programId" = place."programId"
WHERE g."verifiedAt" IS NOT NULL AND g."consentVersion" IS NOT NULL;
