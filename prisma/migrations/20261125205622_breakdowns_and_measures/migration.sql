-- CreateEnum
CREATE TYPE "BreakdownState" AS ENUM ('recording', 'assembling', 'ready', 'failed', 'removed');

-- CreateEnum
CREATE TYPE "CaptionState" AS ENUM ('none', 'asked', 'draft', 'ready');

-- AlterTable
ALTER TABLE "Clip" ADD COLUMN     "focal35mm" DOUBLE PRECISION,
ADD COLUMN     "isZoomed" BOOLEAN;

-- AlterTable
ALTER TABLE "Reply" ADD COLUMN     "breakdownId" UUID,
ADD COLUMN     "momentMs" INTEGER;

-- CreateTable
CREATE TABLE "Breakdown" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "title" TEXT NOT NULL DEFAULT '',
    "state" "BreakdownState" NOT NULL DEFAULT 'recording',
    "recipe" JSONB,
    "takes" INTEGER NOT NULL DEFAULT 0,
    "durationMs" INTEGER,
    "hasVoice" BOOLEAN NOT NULL DEFAULT true,
    "voiceType" TEXT,
    "sizeBytes" BIGINT NOT NULL DEFAULT 0,
    "failCode" TEXT,
    "failDetail" TEXT,
    "captionState" "CaptionState" NOT NULL DEFAULT 'none',
    "captions" TEXT NOT NULL DEFAULT '',
    "captionsRevision" INTEGER NOT NULL DEFAULT 0,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readyAt" TIMESTAMPTZ(3),
    "givenAt" TIMESTAMPTZ(3),
    "removedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Breakdown_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "BreakdownPart" (
    "breakdownId" UUID NOT NULL,
    "segmentId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "sizeBytes" INTEGER NOT NULL,
    "md5" TEXT,
    "storageKey" TEXT,
    "storedAt" TIMESTAMPTZ(3),

    CONSTRAINT "BreakdownPart_pkey" PRIMARY KEY ("breakdownId","segmentId","number")
);

-- CreateTable
CREATE TABLE "BreakdownView" (
    "breakdownId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "positionMs" INTEGER NOT NULL,
    "furthestMs" INTEGER NOT NULL,
    "completedAt" TIMESTAMPTZ(3),
    "updatedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "BreakdownView_pkey" PRIMARY KEY ("breakdownId","personId")
);

-- CreateTable
CREATE TABLE "CaptionAsk" (
    "breakdownId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "CaptionAsk_pkey" PRIMARY KEY ("breakdownId","personId")
);

-- CreateTable
CREATE TABLE "BreakdownExport" (
    "id" UUID NOT NULL,
    "breakdownId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "captions" TEXT NOT NULL,
    "state" TEXT NOT NULL DEFAULT 'waiting',
    "progress" INTEGER NOT NULL DEFAULT 0,
    "storageKey" TEXT,
    "failCode" TEXT,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readyAt" TIMESTAMPTZ(3),

    CONSTRAINT "BreakdownExport_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Remark" (
    "id" UUID NOT NULL,
    "seriesId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "programId" UUID NOT NULL,
    "ownerId" UUID NOT NULL,
    "title" TEXT NOT NULL,
    "text" TEXT NOT NULL DEFAULT '',
    "storageKey" TEXT,
    "voiceType" TEXT,
    "durationMs" INTEGER,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" TIMESTAMPTZ(3),

    CONSTRAINT "Remark_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "MeasureTarget" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "playerId" UUID,
    "measure" TEXT NOT NULL,
    "low" DOUBLE PRECISION,
    "high" DOUBLE PRECISION,
    "setById" UUID NOT NULL,
    "setAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "endedAt" TIMESTAMPTZ(3),

    CONSTRAINT "MeasureTarget_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "Breakdown_lessonId_createdAt_idx" ON "Breakdown"("lessonId", "createdAt");

-- CreateIndex
CREATE INDEX "BreakdownExport_breakdownId_createdAt_idx" ON "BreakdownExport"("breakdownId", "createdAt");

-- CreateIndex
CREATE INDEX "Remark_ownerId_retiredAt_idx" ON "Remark"("ownerId", "retiredAt");

-- CreateIndex
CREATE UNIQUE INDEX "Remark_seriesId_number_key" ON "Remark"("seriesId", "number");

-- CreateIndex
CREATE INDEX "MeasureTarget_programId_playerId_measure_idx" ON "MeasureTarget"("programId", "playerId", "measure");

-- AddForeignKey
ALTER TABLE "Breakdown" ADD CONSTRAINT "Breakdown_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Breakdown" ADD CONSTRAINT "Breakdown_byId_fkey" FOREIGN KEY ("byId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BreakdownPart" ADD CONSTRAINT "BreakdownPart_breakdownId_fkey" FOREIGN KEY ("breakdownId") REFERENCES "Breakdown"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BreakdownView" ADD CONSTRAINT "BreakdownView_breakdownId_fkey" FOREIGN KEY ("breakdownId") REFERENCES "Breakdown"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BreakdownView" ADD CONSTRAINT "BreakdownView_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CaptionAsk" ADD CONSTRAINT "CaptionAsk_breakdownId_fkey" FOREIGN KEY ("breakdownId") REFERENCES "Breakdown"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CaptionAsk" ADD CONSTRAINT "CaptionAsk_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "BreakdownExport" ADD CONSTRAINT "BreakdownExport_breakdownId_fkey" FOREIGN KEY ("breakdownId") REFERENCES "Breakdown"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Remark" ADD CONSTRAINT "Remark_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Remark" ADD CONSTRAINT "Remark_ownerId_fkey" FOREIGN KEY ("ownerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "MeasureTarget" ADD CONSTRAINT "MeasureTarget_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "MeasureTarget" ADD CONSTRAINT "MeasureTarget_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Reply" ADD CONSTRAINT "Reply_breakdownId_fkey" FOREIGN KEY ("breakdownId") REFERENCES "Breakdown"("id") ON DELETE SET NULL ON UPDATE CASCADE;
