-- A clip belongs to a lesson or, new, to a drill of the library. The version before goes on beside it: what it writes
-- has a lesson, and it asks for clips by their lesson.

-- CreateEnum
CREATE TYPE "ClipShows" AS ENUM ('nobody', 'sender', 'adult');

-- AlterTable
ALTER TABLE "Clip" ADD COLUMN     "drillId" UUID,
ADD COLUMN     "shows" "ClipShows",
ALTER COLUMN "lessonId" DROP NOT NULL;

-- AlterTable
ALTER TABLE "Drill" ADD COLUMN     "clipId" UUID;

-- CreateIndex
CREATE INDEX "Clip_drillId_idx" ON "Clip"("drillId");

-- CreateIndex
CREATE INDEX "Drill_clipId_idx" ON "Drill"("clipId");

-- AddForeignKey
ALTER TABLE "Clip" ADD CONSTRAINT "Clip_drillId_fkey" FOREIGN KEY ("drillId") REFERENCES "Drill"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Drill" ADD CONSTRAINT "Drill_clipId_fkey" FOREIGN KEY ("clipId") REFERENCES "Clip"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- Of one or the other; and of a drill's it is always said who is in it.
ALTER TABLE "Clip" ADD CONSTRAINT "Clip_of_one_thing" CHECK (("lessonId" IS NULL) <> ("drillId" IS NULL));
ALTER TABLE "Clip" ADD CONSTRAINT "Clip_says_who_is_in_it" CHECK (("drillId" IS NULL) = ("shows" IS NULL));
