-- AlterTable
ALTER TABLE "WorkerBeat" ADD COLUMN     "jobs" TEXT[] DEFAULT ARRAY[]::TEXT[];

-- CreateTable
CREATE TABLE "SharedSettings" (
    "id" INTEGER NOT NULL,
    "fingerprint" JSONB NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "SharedSettings_pkey" PRIMARY KEY ("id")
);

