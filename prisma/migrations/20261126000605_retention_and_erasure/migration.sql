-- AlterTable
ALTER TABLE "ErasureRequest" ADD COLUMN     "cancelledById" UUID;

-- AlterTable
ALTER TABLE "LegalHold" ADD COLUMN     "endedById" UUID;

-- AlterTable
ALTER TABLE "Person" ADD COLUMN     "pseudonym" TEXT;

-- AlterTable
ALTER TABLE "PersonalExport" DROP COLUMN "storageKey",
ADD COLUMN     "failReason" TEXT,
ADD COLUMN     "parts" INTEGER NOT NULL DEFAULT 0,
ADD COLUMN     "sizeBytes" BIGINT NOT NULL DEFAULT 0;

-- CreateTable
CREATE TABLE "FileRemoval" (
    "prefix" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "FileRemoval_pkey" PRIMARY KEY ("prefix")
);

-- CreateTable
CREATE TABLE "StrayFile" (
    "key" TEXT NOT NULL,
    "seenAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "StrayFile_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "RetentionRun" (
    "id" TEXT NOT NULL,
    "programId" UUID,
    "day" DATE NOT NULL,
    "counts" JSONB NOT NULL DEFAULT '{}',
    "startedAt" TIMESTAMPTZ(3) NOT NULL,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "RetentionRun_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "RetentionRun_programId_day_idx" ON "RetentionRun"("programId", "day");

-- CreateIndex
CREATE UNIQUE INDEX "Person_pseudonym_key" ON "Person"("pseudonym");


-- Deadlines and erasure take words and names away, never facts. Only a transaction that says so may, and only as far as
-- the triggers of the rows let it.
CREATE FUNCTION is_blanking() RETURNS boolean LANGUAGE sql STABLE AS $$
  SELECT coalesce(current_setting('cagepost.blanking', true), '') = 'on'
$$;

CREATE OR REPLACE FUNCTION refuse_change() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP IN ('UPDATE', 'DELETE') AND is_blanking() THEN
    RETURN NULL;
  END IF;
  RAISE EXCEPTION '% is append-only: % is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation', HINT = 'Add a correcting row instead.';
END
$$;

-- The named columns may be emptied; nothing else changes, and no row goes.
CREATE FUNCTION refuse_but_blanking() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  words text[] := TG_ARGV;
BEGIN
  IF TG_OP = 'UPDATE'
    AND to_jsonb(OLD) - words = to_jsonb(NEW) - words
    AND NOT EXISTS (SELECT FROM unnest(words) word WHERE coalesce(to_jsonb(NEW) ->> word, '') <> '')
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is append-only: % of more than its words is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation';
END
$$;
CREATE TRIGGER "LedgerEntry_blanking" BEFORE UPDATE OR DELETE ON "LedgerEntry"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_blanking('reason');
CREATE TRIGGER "LessonEvent_blanking" BEFORE UPDATE OR DELETE ON "LessonEvent"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_blanking('reason');
CREATE TRIGGER "ReplyEdit_blanking" BEFORE UPDATE OR DELETE ON "ReplyEdit"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_blanking('body');

-- A document keeps its number and its amounts; the payer's name may become a stand-in.
CREATE FUNCTION refuse_but_renaming() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'UPDATE'
    AND to_jsonb(OLD) - 'facts' = to_jsonb(NEW) - 'facts'
    AND OLD.facts - 'payerName' = NEW.facts - 'payerName'
    AND NEW.facts ->> 'payerName' LIKE 'A former payer%'
  THEN
    RETURN NEW;
  END IF;
  RAISE EXCEPTION '% is append-only: % of more than the payer''s name is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation';
END
$$;
CREATE TRIGGER "BillingDocument_renaming" BEFORE UPDATE OR DELETE ON "BillingDocument"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_renaming();

-- Of the audit only the lines of who saw what of a minor have an end; what was done stays.
CREATE FUNCTION refuse_but_views() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF TG_OP = 'DELETE' AND OLD.action = 'minor.shown' THEN
    RETURN OLD;
  END IF;
  RAISE EXCEPTION '% is append-only: % of what was done is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation';
END
$$;
CREATE TRIGGER "AuditEntry_views" BEFORE UPDATE OR DELETE ON "AuditEntry"
  FOR EACH ROW EXECUTE FUNCTION refuse_but_views();

-- Consents, checks and concerns keep their history; once they have ended, their deadline may take them.
CREATE OR REPLACE FUNCTION refuse_but_ending() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  ending text[] := TG_ARGV;
  old_row jsonb := to_jsonb(OLD);
BEGIN
  IF TG_OP = 'UPDATE'
    AND old_row - ending = to_jsonb(NEW) - ending
    AND old_row -> TG_ARGV[0] = 'null'::jsonb
  THEN
    RETURN NEW;
  END IF;
  IF TG_OP = 'DELETE' AND is_blanking() AND (
    old_row ->> TG_ARGV[0] IS NOT NULL
    OR (old_row ->> 'expiresAt')::timestamptz < now()
    OR (old_row ->> 'expiresOn')::date < now()
  ) THEN
    RETURN OLD;
  END IF;
  RAISE EXCEPTION '% keeps its history: % is refused', TG_TABLE_NAME, TG_OP
    USING ERRCODE = 'restrict_violation', HINT = 'End it, and add a new row.';
END
$$;
