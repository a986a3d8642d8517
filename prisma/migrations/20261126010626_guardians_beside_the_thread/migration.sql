-- AlterTable
ALTER TABLE "Thread" ADD COLUMN     "guardsUntil" TIMESTAMPTZ(3);


-- What the desk asks of every lesson that waits, kept beside the thread: whether a minor's guardians stand there, until
-- which instant the latest consents to lessons hold, and that none was taken back and no contact is paused. Whether the
-- player is a minor is asked on the day. What a coach may do is never decided by this: it only tells the desk whom to list.
CREATE FUNCTION guards_until(program uuid, player uuid) RETURNS timestamptz LANGUAGE sql VOLATILE AS $$
  SELECT CASE
    WHEN coalesce(bool_or(g."pausedAt" IS NOT NULL), false) OR coalesce(bool_or(given."withdrawnAt" IS NOT NULL), false)
      THEN NULL
    ELSE max(CASE WHEN given."byId" IS NULL THEN NULL ELSE coalesce(given."expiresAt", '9999-12-31 00:00:00+00') END)
  END
  FROM "Guardianship" g
  LEFT JOIN LATERAL (SELECT c."byId", c."withdrawnAt", c."expiresAt" FROM "Consent" c
    WHERE c."playerId" = player AND c."programId" = program AND c.scope = 'lessons'
      AND c."byId" = g."guardianId" AND g."verifiedAt" IS NOT NULL
    ORDER BY c."givenAt" DESC LIMIT 1) given ON true
  WHERE g."playerId" = player
$$;
CREATE FUNCTION keep_guards() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE whose uuid := CASE WHEN TG_OP = 'DELETE' THEN OLD."playerId" ELSE NEW."playerId" END;
BEGIN
  -- Held first: of two changes at once the second one must count with what the first one has written.
  PERFORM 1 FROM "Thread" WHERE "playerId" = whose ORDER BY id FOR NO KEY UPDATE;
  UPDATE "Thread" SET "guardsUntil" = guards_until("programId", "playerId") WHERE "playerId" = whose;
  RETURN NULL;
END
$$;
CREATE TRIGGER "Guardianship_guards" AFTER INSERT OR UPDATE OR DELETE ON "Guardianship"
  FOR EACH ROW EXECUTE FUNCTION keep_guards();
CREATE TRIGGER "Consent_guards" AFTER INSERT OR UPDATE OR DELETE ON "Consent"
  FOR EACH ROW EXECUTE FUNCTION keep_guards();
CREATE FUNCTION begin_guards() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  NEW."guardsUntil" := guards_until(NEW."programId", NEW."playerId");
  RETURN NEW;
END
$$;
CREATE TRIGGER "Thread_guards" BEFORE INSERT ON "Thread" FOR EACH ROW EXECUTE FUNCTION begin_guards();
UPDATE "Thread" SET "guardsUntil" = guards_until("programId", "playerId");


-- CreateIndex
CREATE INDEX "Thread_playerId_idx" ON "Thread"("playerId");
