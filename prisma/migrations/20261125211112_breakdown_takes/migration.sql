-- AlterTable
ALTER TABLE "Breakdown" ADD COLUMN     "captionFault" TEXT,
ADD COLUMN     "readyTake" INTEGER NOT NULL DEFAULT 0;
