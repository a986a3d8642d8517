-- CreateEnum
CREATE TYPE "DrillStage" AS ENUM ('tee', 'toss', 'machine', 'live');

-- AlterTable
ALTER TABLE "Lesson" ADD COLUMN     "answersId" UUID;

-- AlterTable
ALTER TABLE "Person" ADD COLUMN     "calendarKey" TEXT,
ADD COLUMN     "erasedAt" TIMESTAMPTZ(3),
ADD COLUMN     "timeZone" TEXT;

-- AlterTable
ALTER TABLE "Program" ADD COLUMN     "hours" JSONB,
ADD COLUMN     "retention" JSONB;

-- CreateTable
CREATE TABLE "Drill" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "seriesId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "title" TEXT NOT NULL,
    "summary" TEXT NOT NULL DEFAULT '',
    "steps" TEXT[],
    "stages" "DrillStage"[],
    "drawing" JSONB,
    "safety" TEXT[],
    "itemIds" TEXT[],
    "standing" TEXT NOT NULL DEFAULT '',
    "createdById" UUID,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" TIMESTAMPTZ(3),

    CONSTRAINT "Drill_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Assignment" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "playerId" UUID NOT NULL,
    "drillId" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "dose" JSONB NOT NULL,
    "cue" TEXT NOT NULL DEFAULT '',
    "swingBy" DATE,
    "givenAt" TIMESTAMPTZ(3) NOT NULL,
    "pausedAt" TIMESTAMPTZ(3),
    "pauseReason" TEXT,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Assignment_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "CheckIn" (
    "id" UUID NOT NULL,
    "assignmentId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "day" DATE NOT NULL,
    "setsDone" INTEGER NOT NULL,
    "repsDone" INTEGER NOT NULL,
    "feel" INTEGER,
    "note" TEXT NOT NULL DEFAULT '',
    "painLevel" INTEGER NOT NULL,
    "painWhere" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "CheckIn_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PracticeSafety" (
    "playerId" UUID NOT NULL,
    "version" INTEGER NOT NULL,
    "byId" UUID NOT NULL,
    "adult" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "PracticeSafety_pkey" PRIMARY KEY ("playerId","version")
);

-- CreateTable
CREATE TABLE "Consent" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "playerId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "scope" TEXT NOT NULL,
    "version" TEXT NOT NULL,
    "method" TEXT NOT NULL,
    "givenAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "expiresAt" TIMESTAMPTZ(3),
    "withdrawnAt" TIMESTAMPTZ(3),

    CONSTRAINT "Consent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Clearance" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "issuedOn" DATE NOT NULL,
    "expiresOn" DATE NOT NULL,
    "recordedById" UUID NOT NULL,
    "recordedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "revokedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Clearance_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Concern" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "raisedById" UUID,
    "aboutId" UUID,
    "threadId" UUID,
    "body" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "closedById" UUID,
    "closedAt" TIMESTAMPTZ(3),
    "outcome" TEXT,

    CONSTRAINT "Concern_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Notice" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "data" JSONB NOT NULL,
    "path" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "shownFrom" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readAt" TIMESTAMPTZ(3),

    CONSTRAINT "Notice_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "NoticeChoice" (
    "personId" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "mail" TEXT NOT NULL,

    CONSTRAINT "NoticeChoice_pkey" PRIMARY KEY ("personId","kind")
);

-- CreateTable
CREATE TABLE "LegalHold" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "playerId" UUID NOT NULL,
    "reason" TEXT NOT NULL,
    "byId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "LegalHold_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PersonalExport" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "storageKey" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readyAt" TIMESTAMPTZ(3),
    "expiresAt" TIMESTAMPTZ(3),

    CONSTRAINT "PersonalExport_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ErasureRequest" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "dueAt" TIMESTAMPTZ(3) NOT NULL,
    "cancelledAt" TIMESTAMPTZ(3),
    "doneAt" TIMESTAMPTZ(3),

    CONSTRAINT "ErasureRequest_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Drill_programId_retiredAt_title_idx" ON "Drill"("programId", "retiredAt", "title");

-- CreateIndex
CREATE UNIQUE INDEX "Drill_seriesId_number_key" ON "Drill"("seriesId", "number");

-- CreateIndex
CREATE INDEX "Assignment_playerId_endedAt_idx" ON "Assignment"("playerId", "endedAt");

-- CreateIndex
CREATE INDEX "Assignment_lessonId_position_idx" ON "Assignment"("lessonId", "position");

-- CreateIndex
CREATE INDEX "Assignment_programId_swingBy_idx" ON "Assignment"("programId", "swingBy");

-- CreateIndex
CREATE INDEX "CheckIn_assignmentId_day_idx" ON "CheckIn"("assignmentId", "day");

-- CreateIndex
CREATE INDEX "Consent_playerId_scope_givenAt_idx" ON "Consent"("playerId", "scope", "givenAt");

-- CreateIndex
CREATE INDEX "Consent_expiresAt_idx" ON "Consent"("expiresAt");

-- CreateIndex
CREATE INDEX "Clearance_personId_kind_expiresOn_idx" ON "Clearance"("personId", "kind", "expiresOn");

-- CreateIndex
CREATE INDEX "Concern_programId_closedAt_at_idx" ON "Concern"("programId", "closedAt", "at");

-- CreateIndex
CREATE INDEX "Notice_personId_at_id_idx" ON "Notice"("personId", "at", "id");

-- CreateIndex
CREATE INDEX "LegalHold_playerId_endedAt_idx" ON "LegalHold"("playerId", "endedAt");

-- CreateIndex
CREATE INDEX "PersonalExport_personId_at_idx" ON "PersonalExport"("personId", "at");

-- CreateIndex
CREATE INDEX "ErasureRequest_personId_at_idx" ON "ErasureRequest"("personId", "at");

-- CreateIndex
CREATE INDEX "ErasureRequest_dueAt_idx" ON "ErasureRequest"("dueAt");

-- CreateIndex
CREATE UNIQUE INDEX "Person_calendarKey_key" ON "Person"("calendarKey");

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_answersId_fkey" FOREIGN KEY ("answersId") REFERENCES "Assignment"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Drill" ADD CONSTRAINT "Drill_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Assignment" ADD CONSTRAINT "Assignment_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Assignment" ADD CONSTRAINT "Assignment_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Assignment" ADD CONSTRAINT "Assignment_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Assignment" ADD CONSTRAINT "Assignment_drillId_fkey" FOREIGN KEY ("drillId") REFERENCES "Drill"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CheckIn" ADD CONSTRAINT "CheckIn_assignmentId_fkey" FOREIGN KEY ("assignmentId") REFERENCES "Assignment"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CheckIn" ADD CONSTRAINT "CheckIn_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PracticeSafety" ADD CONSTRAINT "PracticeSafety_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Consent" ADD CONSTRAINT "Consent_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Consent" ADD CONSTRAINT "Consent_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Clearance" ADD CONSTRAINT "Clearance_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Clearance" ADD CONSTRAINT "Clearance_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Concern" ADD CONSTRAINT "Concern_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Notice" ADD CONSTRAINT "Notice_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "NoticeChoice" ADD CONSTRAINT "NoticeChoice_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LegalHold" ADD CONSTRAINT "LegalHold_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

