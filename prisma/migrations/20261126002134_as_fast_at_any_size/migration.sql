-- DropIndex
DROP INDEX "AuditEntry_programId_at_idx";

-- DropIndex
DROP INDEX "Balance_payerId_since_idx";

-- DropIndex
DROP INDEX "BillingDocument_payerId_at_idx";

-- DropIndex
DROP INDEX "Concern_programId_closedAt_at_idx";

-- DropIndex
DROP INDEX "Invitation_programId_createdAt_idx";

-- AlterTable
-- What waits for a coach, as a fact that an index can be limited to: a state as a parameter cannot.
ALTER TABLE "Lesson" ADD COLUMN "waitsUntil" TIMESTAMPTZ(3)
  GENERATED ALWAYS AS (CASE WHEN state IN ('submitted', 'in_review') THEN "promisedAt" END) STORED;

-- AlterTable
ALTER TABLE "Membership" ADD COLUMN     "sortName" TEXT NOT NULL DEFAULT '';

-- CreateTable
CREATE TABLE "MonthTotal" (
    "programId" UUID NOT NULL,
    "month" TEXT NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "chargedMinor" BIGINT NOT NULL DEFAULT 0,
    "receivedMinor" BIGINT NOT NULL DEFAULT 0,
    "waivedMinor" BIGINT NOT NULL DEFAULT 0,
    "refundedMinor" BIGINT NOT NULL DEFAULT 0,
    "packedMinor" BIGINT NOT NULL DEFAULT 0,

    CONSTRAINT "MonthTotal_pkey" PRIMARY KEY ("programId","month","currency")
);

-- CreateIndex
CREATE INDEX "AuditEntry_programId_at_id_idx" ON "AuditEntry"("programId", "at", "id");

-- CreateIndex
CREATE INDEX "Balance_payerId_since_subject_idx" ON "Balance"("payerId", "since", "subject");

-- CreateIndex
CREATE INDEX "BillingDocument_payerId_at_id_idx" ON "BillingDocument"("payerId", "at", "id");

-- CreateIndex
CREATE INDEX "BillingDocument_programId_at_id_idx" ON "BillingDocument"("programId", "at", "id");

-- CreateIndex
CREATE INDEX "Concern_programId_closedAt_at_id_idx" ON "Concern"("programId", "closedAt", "at", "id");

-- CreateIndex
CREATE INDEX "Invitation_programId_createdAt_id_idx" ON "Invitation"("programId", "createdAt", "id");

-- CreateIndex
CREATE INDEX "Invitation_createdById_createdAt_id_idx" ON "Invitation"("createdById", "createdAt", "id");

-- CreateIndex
CREATE INDEX "Lesson_answersId_idx" ON "Lesson"("answersId");

-- CreateIndex
CREATE INDEX "Lesson_followsId_idx" ON "Lesson"("followsId");

-- CreateIndex
CREATE INDEX "Membership_programId_role_sortName_personId_idx" ON "Membership"("programId", "role", "sortName", "personId");

-- CreateIndex
CREATE INDEX "Pack_programId_soldAt_id_idx" ON "Pack"("programId", "soldAt", "id");

-- CreateIndex
CREATE INDEX "Pack_payerId_soldAt_id_idx" ON "Pack"("payerId", "soldAt", "id");

-- AddForeignKey
ALTER TABLE "MonthTotal" ADD CONSTRAINT "MonthTotal_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;


-- The desk: what waits, in order of promise, of all coaches and of one (or of nobody yet).
CREATE INDEX "Lesson_waiting_idx" ON "Lesson" ("programId", "waitsUntil", id) WHERE "waitsUntil" IS NOT NULL;
CREATE INDEX "Lesson_waiting_coach_idx" ON "Lesson" ("programId", "coachId", "waitsUntil", id)
  WHERE "waitsUntil" IS NOT NULL;
CREATE INDEX "Clip_failed_idx" ON "Clip" ("lessonId") WHERE state = 'failed' AND "removedAt" IS NULL;

-- Swings that were asked for by a day and may still come.
CREATE INDEX "Assignment_swing_wanted_idx" ON "Assignment" ("programId", "swingBy", id)
  WHERE "endedAt" IS NULL AND "pausedAt" IS NULL AND "swingBy" IS NOT NULL;

-- What is owed, the longest due first, and what is to be given back.
CREATE INDEX "Balance_owed_idx" ON "Balance" ("programId", "dueAt", subject) WHERE "owedMinor" > 0;
CREATE INDEX "Balance_owed_by_idx" ON "Balance" ("payerId", "dueAt", subject) WHERE "owedMinor" > 0;
CREATE INDEX "Balance_to_give_back_idx" ON "Balance" ("programId", since, subject)
  WHERE "promisedMinor" > "refundedMinor"
    OR ("lessonId" IS NULL AND "packId" IS NULL AND "paidMinor" > "refundedMinor");

-- Names beside memberships.
CREATE FUNCTION keep_sort_name() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  SELECT name INTO NEW."sortName" FROM "Person" WHERE id = NEW."personId";
  NEW."sortName" := COALESCE(NEW."sortName", '');
  RETURN NEW;
END
$$;
CREATE TRIGGER "Membership_sort_name" BEFORE INSERT ON "Membership"
  FOR EACH ROW EXECUTE FUNCTION keep_sort_name();
CREATE FUNCTION keep_sort_names() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  UPDATE "Membership" SET "sortName" = NEW.name WHERE "personId" = NEW.id;
  RETURN NULL;
END
$$;
CREATE TRIGGER "Person_sort_names" AFTER UPDATE OF name ON "Person"
  FOR EACH ROW WHEN (OLD.name IS DISTINCT FROM NEW.name) EXECUTE FUNCTION keep_sort_names();
UPDATE "Membership" m SET "sortName" = p.name FROM "Person" p WHERE p.id = m."personId";

-- Search. Each word is kept with a tag before it that says whose it is, and of a lesson in which month it was sent:
-- looking for a word within one month of one program costs the same however many lessons there are besides.
-- PostgreSQL's "simple" configuration: names and questions come in every language.
CREATE FUNCTION program_tag(program uuid) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS
  $$ SELECT 'p' || substr(md5(program::text), 1, 12) || 'x' $$;
CREATE FUNCTION month_number(at timestamptz) RETURNS int LANGUAGE sql IMMUTABLE PARALLEL SAFE AS
  $$ SELECT (extract(year FROM at AT TIME ZONE 'UTC') * 12 + extract(month FROM at AT TIME ZONE 'UTC'))::int $$;
CREATE FUNCTION month_tag(program uuid, month int) RETURNS text LANGUAGE sql IMMUTABLE PARALLEL SAFE AS
  $$ SELECT 'p' || substr(md5(program::text), 1, 12) || 'm' || month || 'x' $$;
CREATE FUNCTION tagged_words(tag text, said text) RETURNS tsvector LANGUAGE sql IMMUTABLE PARALLEL SAFE AS
  $$ SELECT to_tsvector('simple', tag || regexp_replace(said, '[^[:alnum:]]+', ' ' || tag, 'g')) $$;
CREATE INDEX "Membership_name_words_idx" ON "Membership"
  USING gin (tagged_words(program_tag("programId"), "sortName"));
CREATE INDEX "Lesson_month_words_idx" ON "Lesson"
  USING gin (tagged_words(month_tag("programId", month_number("submittedAt")), question))
  WHERE "submittedAt" IS NOT NULL;
DROP INDEX "Person_name_words_idx";
DROP INDEX "Lesson_question_words_idx";

-- Totals by month, in the program's own calendar. At the end of the transaction, when it holds every other lock that it
-- needs: otherwise two that record money at once could wait for each other.
CREATE FUNCTION add_to_month(entry "LedgerEntry", zone text) RETURNS void LANGUAGE sql AS $$
  INSERT INTO "MonthTotal" AS t
    ("programId", month, currency, "chargedMinor", "receivedMinor", "waivedMinor", "refundedMinor", "packedMinor")
  VALUES (entry."programId", to_char(entry.at AT TIME ZONE zone, 'YYYY-MM'), entry.currency,
    CASE WHEN entry.kind IN ('charge', 'pack_sale', 'correction') THEN entry."amountMinor" ELSE 0 END,
    CASE WHEN entry.kind = 'payment' THEN entry."amountMinor" ELSE 0 END,
    CASE WHEN entry.kind = 'waiver' THEN entry."amountMinor" ELSE 0 END,
    CASE WHEN entry.kind = 'refund' THEN entry."amountMinor" ELSE 0 END,
    CASE WHEN entry.kind = 'pack_use' THEN entry."amountMinor" ELSE 0 END)
  ON CONFLICT ("programId", month, currency) DO UPDATE SET
    "chargedMinor" = t."chargedMinor" + excluded."chargedMinor",
    "receivedMinor" = t."receivedMinor" + excluded."receivedMinor",
    "waivedMinor" = t."waivedMinor" + excluded."waivedMinor",
    "refundedMinor" = t."refundedMinor" + excluded."refundedMinor",
    "packedMinor" = t."packedMinor" + excluded."packedMinor"
$$;
CREATE FUNCTION keep_month() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE zone text;
BEGIN
  -- Nobody may move the program to another zone meanwhile: its months are being counted.
  SELECT "timeZone" INTO zone FROM "Program" WHERE id = NEW."programId" FOR SHARE;
  PERFORM add_to_month(NEW, zone);
  RETURN NULL;
END
$$;
CREATE FUNCTION count_months(program uuid) RETURNS void LANGUAGE sql AS $$
  DELETE FROM "MonthTotal" WHERE "programId" = program;
  INSERT INTO "MonthTotal"
    ("programId", month, currency, "chargedMinor", "receivedMinor", "waivedMinor", "refundedMinor", "packedMinor")
  SELECT e."programId", to_char(e.at AT TIME ZONE p."timeZone", 'YYYY-MM'), e.currency,
    COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind IN ('charge', 'pack_sale', 'correction')), 0),
    COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'payment'), 0),
    COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'waiver'), 0),
    COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'refund'), 0),
    COALESCE(sum(e."amountMinor") FILTER (WHERE e.kind = 'pack_use'), 0)
  FROM "LedgerEntry" e JOIN "Program" p ON p.id = e."programId"
  WHERE e."programId" = program GROUP BY 1, 2, 3
$$;
CREATE FUNCTION keep_months_in_zone() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  PERFORM count_months(NEW.id);
  RETURN NULL;
END
$$;
SELECT count_months(id) FROM "Program";
CREATE CONSTRAINT TRIGGER "LedgerEntry_month" AFTER INSERT ON "LedgerEntry"
  DEFERRABLE INITIALLY DEFERRED FOR EACH ROW EXECUTE FUNCTION keep_month();
CREATE TRIGGER "Program_months" AFTER UPDATE OF "timeZone" ON "Program"
  FOR EACH ROW WHEN (OLD."timeZone" IS DISTINCT FROM NEW."timeZone") EXECUTE FUNCTION keep_months_in_zone();
CREATE TRIGGER "MonthTotal_sums_only" BEFORE INSERT OR UPDATE OR DELETE ON "MonthTotal"
  FOR EACH ROW EXECUTE FUNCTION refuse_own_sums();
