-- CreateEnum
CREATE TYPE "PayMethod" AS ENUM ('cash', 'transfer', 'card', 'other');

-- CreateEnum
CREATE TYPE "PriceKind" AS ENUM ('lesson', 'pack');

-- CreateEnum
CREATE TYPE "DocumentKind" AS ENUM ('invoice', 'receipt', 'credit_note');

-- CreateEnum
CREATE TYPE "CardState" AS ENUM ('open', 'paid', 'expired', 'failed');

-- DropIndex
DROP INDEX "LedgerEntry_programId_at_idx";

-- AlterTable
ALTER TABLE "LedgerEntry" ADD COLUMN     "dueAt" TIMESTAMPTZ(3),
ADD COLUMN     "method" "PayMethod",
ADD COLUMN     "packId" UUID,
ADD COLUMN     "payerId" UUID,
ADD COLUMN     "takesBackId" UUID;

-- AlterTable
ALTER TABLE "Lesson" ADD COLUMN     "policy" JSONB;

-- AlterTable
ALTER TABLE "Price" ADD COLUMN     "kind" "PriceKind" NOT NULL DEFAULT 'lesson',
ADD COLUMN     "lessons" INTEGER NOT NULL DEFAULT 1,
ADD COLUMN     "number" INTEGER NOT NULL DEFAULT 1,
ADD COLUMN     "seriesId" UUID,
ADD COLUMN     "validDays" INTEGER;

-- AlterTable
ALTER TABLE "Program" ADD COLUMN     "dueDays" INTEGER NOT NULL DEFAULT 14,
ADD COLUMN     "keptPercent" INTEGER NOT NULL DEFAULT 100,
ADD COLUMN     "moneyTerms" TEXT NOT NULL DEFAULT '';

-- What is there already: a lesson was paid by who sent it, and the prices of a program are versions of one line.
ALTER TABLE "LedgerEntry" DISABLE TRIGGER "LedgerEntry_append_only";
UPDATE "LedgerEntry" e SET
  "payerId" = COALESCE((SELECT l."startedById" FROM "Lesson" l WHERE l.id = e."lessonId"), e."actorId"),
  "dueAt" = CASE WHEN e.kind = 'charge' THEN e.at + interval '14 days' END;
ALTER TABLE "LedgerEntry" ENABLE TRIGGER "LedgerEntry_append_only";
UPDATE "Price" p SET "seriesId" = v.series, number = v.number FROM (
  SELECT id, first_value(id) OVER w AS series, row_number() OVER w AS number
  FROM "Price" WINDOW w AS (PARTITION BY "programId" ORDER BY "createdAt", id)
) v WHERE v.id = p.id;
ALTER TABLE "LedgerEntry" ALTER COLUMN "payerId" SET NOT NULL;
ALTER TABLE "Price" ALTER COLUMN "seriesId" SET NOT NULL;

-- CreateTable
CREATE TABLE "Pack" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "payerId" UUID NOT NULL,
    "priceId" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "lessons" INTEGER NOT NULL,
    "usedLessons" INTEGER NOT NULL DEFAULT 0,
    "amountMinor" INTEGER NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "policy" JSONB NOT NULL,
    "soldAt" TIMESTAMPTZ(3) NOT NULL,
    "validUntil" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Pack_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Balance" (
    "subject" TEXT NOT NULL,
    "programId" UUID NOT NULL,
    "payerId" UUID NOT NULL,
    "lessonId" UUID,
    "packId" UUID,
    "currency" CHAR(3) NOT NULL,
    "chargedMinor" INTEGER NOT NULL DEFAULT 0,
    "paidMinor" INTEGER NOT NULL DEFAULT 0,
    "refundedMinor" INTEGER NOT NULL DEFAULT 0,
    "waivedMinor" INTEGER NOT NULL DEFAULT 0,
    "packedMinor" INTEGER NOT NULL DEFAULT 0,
    "owedMinor" INTEGER NOT NULL DEFAULT 0,
    "promisedMinor" INTEGER NOT NULL DEFAULT 0,
    "dueAt" TIMESTAMPTZ(3),
    "since" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "Balance_pkey" PRIMARY KEY ("subject")
);

-- CreateTable
CREATE TABLE "BillingDocument" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "payerId" UUID NOT NULL,
    "kind" "DocumentKind" NOT NULL,
    "number" INTEGER NOT NULL,
    "lessonId" UUID,
    "packId" UUID,
    "entryId" UUID NOT NULL,
    "facts" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "BillingDocument_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DocumentCounter" (
    "programId" UUID NOT NULL,
    "kind" "DocumentKind" NOT NULL,
    "last" INTEGER NOT NULL DEFAULT 0,

    CONSTRAINT "DocumentCounter_pkey" PRIMARY KEY ("programId","kind")
);

-- CreateTable
CREATE TABLE "CardPayment" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "payerId" UUID NOT NULL,
    "lessonId" UUID,
    "packId" UUID,
    "amountMinor" INTEGER NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "state" "CardState" NOT NULL DEFAULT 'open',
    "sessionId" TEXT,
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL,
    "settledAt" TIMESTAMPTZ(3),

    CONSTRAINT "CardPayment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CardEvent" (
    "id" TEXT NOT NULL,
    "type" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "CardEvent_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Pack_programId_payerId_validUntil_idx" ON "Pack"("programId", "payerId", "validUntil");

-- CreateIndex
CREATE UNIQUE INDEX "Balance_lessonId_key" ON "Balance"("lessonId");

-- CreateIndex
CREATE UNIQUE INDEX "Balance_packId_key" ON "Balance"("packId");

-- CreateIndex
CREATE INDEX "Balance_payerId_since_idx" ON "Balance"("payerId", "since");

-- CreateIndex
CREATE UNIQUE INDEX "BillingDocument_entryId_key" ON "BillingDocument"("entryId");

-- CreateIndex
CREATE INDEX "BillingDocument_payerId_at_idx" ON "BillingDocument"("payerId", "at");

-- CreateIndex
CREATE UNIQUE INDEX "BillingDocument_programId_kind_number_key" ON "BillingDocument"("programId", "kind", "number");

-- CreateIndex
CREATE UNIQUE INDEX "CardPayment_sessionId_key" ON "CardPayment"("sessionId");

-- CreateIndex
CREATE INDEX "CardPayment_payerId_createdAt_idx" ON "CardPayment"("payerId", "createdAt");

-- CreateIndex
CREATE UNIQUE INDEX "LedgerEntry_takesBackId_key" ON "LedgerEntry"("takesBackId");

-- CreateIndex
CREATE INDEX "LedgerEntry_packId_at_idx" ON "LedgerEntry"("packId", "at");

-- CreateIndex
CREATE INDEX "LedgerEntry_programId_at_id_idx" ON "LedgerEntry"("programId", "at", "id");

-- CreateIndex
CREATE INDEX "LedgerEntry_payerId_at_idx" ON "LedgerEntry"("payerId", "at");

-- CreateIndex
CREATE UNIQUE INDEX "Price_seriesId_number_key" ON "Price"("seriesId", "number");

-- AddForeignKey
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_payerId_fkey" FOREIGN KEY ("payerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_priceId_fkey" FOREIGN KEY ("priceId") REFERENCES "Price"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_payerId_fkey" FOREIGN KEY ("payerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_takesBackId_fkey" FOREIGN KEY ("takesBackId") REFERENCES "LedgerEntry"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_payerId_fkey" FOREIGN KEY ("payerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BillingDocument" ADD CONSTRAINT "BillingDocument_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BillingDocument" ADD CONSTRAINT "BillingDocument_payerId_fkey" FOREIGN KEY ("payerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BillingDocument" ADD CONSTRAINT "BillingDocument_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BillingDocument" ADD CONSTRAINT "BillingDocument_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DocumentCounter" ADD CONSTRAINT "DocumentCounter_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CardPayment" ADD CONSTRAINT "CardPayment_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CardPayment" ADD CONSTRAINT "CardPayment_payerId_fkey" FOREIGN KEY ("payerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CardPayment" ADD CONSTRAINT "CardPayment_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CardPayment" ADD CONSTRAINT "CardPayment_packId_fkey" FOREIGN KEY ("packId") REFERENCES "Pack"("id") ON DELETE SET NULL ON UPDATE CASCADE;


-- What an entry may look like. The domain says the same; this holds against a mistake in it.
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_amount" CHECK (
  CASE WHEN kind = 'correction' THEN "amountMinor" <> 0 ELSE "amountMinor" > 0 END
);
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_subject" CHECK (
  CASE kind
    WHEN 'charge' THEN "lessonId" IS NOT NULL AND "packId" IS NULL
    WHEN 'pack_sale' THEN "lessonId" IS NULL AND "packId" IS NOT NULL
    WHEN 'pack_use' THEN "lessonId" IS NOT NULL AND "packId" IS NOT NULL
    WHEN 'correction' THEN ("takesBackId" IS NOT NULL) = ("lessonId" IS NOT NULL AND "packId" IS NOT NULL)
      AND ("lessonId" IS NOT NULL OR "packId" IS NOT NULL)
    WHEN 'waiver' THEN ("lessonId" IS NULL) <> ("packId" IS NULL)
    ELSE "lessonId" IS NULL OR "packId" IS NULL
  END
);
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_takes_back" CHECK (
  "takesBackId" IS NULL OR (kind = 'correction' AND "amountMinor" < 0)
);
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_reason" CHECK (
  kind NOT IN ('waiver', 'refund', 'correction') OR length(trim(reason)) > 0
);
CREATE UNIQUE INDEX "LedgerEntry_one_charge" ON "LedgerEntry" ("lessonId") WHERE kind = 'charge';
CREATE UNIQUE INDEX "LedgerEntry_one_pack_use" ON "LedgerEntry" ("lessonId") WHERE kind = 'pack_use';
CREATE UNIQUE INDEX "LedgerEntry_one_pack_sale" ON "LedgerEntry" ("packId") WHERE kind = 'pack_sale';

-- What a pack and a balance may never become.
ALTER TABLE "Pack" ADD CONSTRAINT "Pack_uses" CHECK ("usedLessons" >= 0 AND "usedLessons" <= lessons AND lessons > 0);
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_sums" CHECK (
  "owedMinor" = "chargedMinor" - "paidMinor" - "waivedMinor" - "packedMinor"
);
ALTER TABLE "Balance" ADD CONSTRAINT "Balance_not_below_zero" CHECK (
  "chargedMinor" >= 0 AND "paidMinor" >= "refundedMinor" AND "waivedMinor" >= 0 AND "packedMinor" >= 0
  AND "refundedMinor" >= 0 AND "promisedMinor" >= 0
  AND ("owedMinor" >= 0 OR ("lessonId" IS NULL AND "packId" IS NULL))
);
CREATE INDEX "Balance_owed" ON "Balance" ("programId", "dueAt", subject) WHERE "owedMinor" > 0;
CREATE INDEX "Balance_to_give_back" ON "Balance" ("programId", since, subject) WHERE "promisedMinor" > "refundedMinor";

-- Adds one entry to the sums of what it belongs to. The row is locked until the end of the transaction, so that
-- two entries at the same moment wait for each other, and the checks above see both.
CREATE FUNCTION keep_balance() RETURNS trigger LANGUAGE plpgsql AS $$
DECLARE
  key text := CASE
    WHEN NEW."lessonId" IS NOT NULL THEN 'lesson:' || NEW."lessonId"
    WHEN NEW."packId" IS NOT NULL THEN 'pack:' || NEW."packId"
    ELSE 'payer:' || NEW."programId" || ':' || NEW."payerId" END;
  alone uuid := CASE WHEN NEW."lessonId" IS NULL THEN NEW."packId" END;
  charged int := CASE WHEN NEW.kind IN ('charge', 'pack_sale', 'correction') THEN NEW."amountMinor" ELSE 0 END;
  paid int := CASE WHEN NEW.kind = 'payment' THEN NEW."amountMinor" ELSE 0 END;
  waived int := CASE WHEN NEW.kind = 'waiver' THEN NEW."amountMinor" ELSE 0 END;
  packed int := CASE WHEN NEW.kind = 'pack_use' THEN NEW."amountMinor" ELSE 0 END;
  uses int := CASE WHEN NEW.kind = 'pack_use' THEN 1 ELSE 0 END;
BEGIN
  IF NEW."takesBackId" IS NOT NULL THEN
    SELECT -u."amountMinor", -1 INTO packed, uses FROM "LedgerEntry" u
    WHERE u.id = NEW."takesBackId" AND u.kind = 'pack_use'
      AND u."lessonId" = NEW."lessonId" AND u."packId" = NEW."packId";
    IF NOT FOUND THEN
      RAISE EXCEPTION 'entry % takes back what is no use of that pack for that lesson', NEW.id
        USING ERRCODE = 'check_violation';
    END IF;
  END IF;
  INSERT INTO "Balance" (subject, "programId", "payerId", "lessonId", "packId", currency, "dueAt", since)
  VALUES (key, NEW."programId", NEW."payerId", NEW."lessonId", alone, NEW.currency, NEW."dueAt", NEW.at)
  ON CONFLICT (subject) DO NOTHING;
  UPDATE "Balance" SET
    "chargedMinor" = "chargedMinor" + charged,
    "paidMinor" = "paidMinor" + paid,
    "refundedMinor" = "refundedMinor" + CASE WHEN NEW.kind = 'refund' THEN NEW."amountMinor" ELSE 0 END,
    "waivedMinor" = "waivedMinor" + waived,
    "packedMinor" = "packedMinor" + packed,
    "owedMinor" = "owedMinor" + charged - paid - waived - packed,
    "dueAt" = COALESCE("dueAt", NEW."dueAt")
  WHERE subject = key AND "programId" = NEW."programId" AND "payerId" = NEW."payerId" AND currency = NEW.currency;
  IF NOT FOUND THEN
    RAISE EXCEPTION 'entry % names another program, payer or currency than %', NEW.id, key
      USING ERRCODE = 'check_violation';
  END IF;
  IF uses <> 0 THEN
    UPDATE "Pack" SET "usedLessons" = "usedLessons" + uses
    WHERE id = NEW."packId" AND "programId" = NEW."programId" AND (uses < 0 OR NEW.at <= "validUntil");
    IF NOT FOUND THEN
      RAISE EXCEPTION 'pack % is not valid at %', NEW."packId", NEW.at USING ERRCODE = 'check_violation';
    END IF;
  END IF;
  RETURN NULL;
END
$$;

-- Rows of before, in the order in which they were made.
DO $$
DECLARE e "LedgerEntry";
BEGIN
  FOR e IN SELECT * FROM "LedgerEntry" ORDER BY at, id LOOP
    INSERT INTO "Balance" (subject, "programId", "payerId", "lessonId", currency, "dueAt", since)
    VALUES ('lesson:' || e."lessonId", e."programId", e."payerId", e."lessonId", e.currency, e."dueAt", e.at)
    ON CONFLICT (subject) DO NOTHING;
  END LOOP;
  UPDATE "Balance" b SET
    "chargedMinor" = s.charged, "paidMinor" = s.paid, "refundedMinor" = s.refunded, "waivedMinor" = s.waived,
    "owedMinor" = s.charged - s.paid - s.waived
  FROM (
    SELECT "lessonId",
      COALESCE(sum("amountMinor") FILTER (WHERE kind IN ('charge', 'correction')), 0)::int AS charged,
      COALESCE(sum("amountMinor") FILTER (WHERE kind = 'payment'), 0)::int AS paid,
      COALESCE(sum("amountMinor") FILTER (WHERE kind = 'refund'), 0)::int AS refunded,
      COALESCE(sum("amountMinor") FILTER (WHERE kind = 'waiver'), 0)::int AS waived
    FROM "LedgerEntry" GROUP BY "lessonId"
  ) s WHERE s."lessonId" = b."lessonId";
END
$$;

CREATE TRIGGER "LedgerEntry_balance" AFTER INSERT ON "LedgerEntry"
  FOR EACH ROW EXECUTE FUNCTION keep_balance();

-- The sums are written by the trigger alone: nobody else may set them, so they can only be what the entries say.
CREATE FUNCTION refuse_own_sums() RETURNS trigger LANGUAGE plpgsql AS $$
BEGIN
  IF pg_trigger_depth() < 2 THEN
    RAISE EXCEPTION '% is kept by the entries of the ledger: % is refused', TG_TABLE_NAME, TG_OP
      USING ERRCODE = 'restrict_violation', HINT = 'Add an entry instead.';
  END IF;
  RETURN COALESCE(NEW, OLD);
END
$$;
CREATE TRIGGER "Balance_sums_only" BEFORE INSERT OR DELETE OR UPDATE OF
  "chargedMinor", "paidMinor", "refundedMinor", "waivedMinor", "packedMinor", "owedMinor", currency, "payerId"
  ON "Balance" FOR EACH ROW EXECUTE FUNCTION refuse_own_sums();
CREATE TRIGGER "Pack_uses_only" BEFORE UPDATE OF "usedLessons" ON "Pack"
  FOR EACH ROW EXECUTE FUNCTION refuse_own_sums();
CREATE TRIGGER "BillingDocument_append_only" BEFORE UPDATE OR DELETE OR TRUNCATE ON "BillingDocument"
  FOR EACH STATEMENT EXECUTE FUNCTION refuse_change();
