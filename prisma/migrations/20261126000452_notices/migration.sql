-- DropIndex
DROP INDEX "Notice_personId_at_id_idx";

-- AlterTable
ALTER TABLE "Notice" ADD COLUMN     "digestedAt" TIMESTAMPTZ(3),
ADD COLUMN     "mail" TEXT NOT NULL DEFAULT 'off',
ADD COLUMN     "playerId" UUID;

-- AlterTable
ALTER TABLE "OutboxMail" ADD COLUMN     "personId" UUID,
ADD COLUMN     "programId" UUID;

-- CreateIndex
CREATE INDEX "Balance_programId_dueAt_idx" ON "Balance"("programId", "dueAt");

-- CreateIndex
CREATE INDEX "Notice_personId_shownFrom_id_idx" ON "Notice"("personId", "shownFrom", "id");

-- CreateIndex
CREATE INDEX "Notice_personId_readAt_idx" ON "Notice"("personId", "readAt");

-- CreateIndex
CREATE INDEX "Notice_playerId_idx" ON "Notice"("playerId");

-- CreateIndex
CREATE INDEX "Notice_mail_digestedAt_idx" ON "Notice"("mail", "digestedAt");

-- CreateIndex
CREATE INDEX "OutboxMail_personId_sentAt_idx" ON "OutboxMail"("personId", "sentAt");

