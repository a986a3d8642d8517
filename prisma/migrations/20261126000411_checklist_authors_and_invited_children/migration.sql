-- AlterTable
ALTER TABLE "Checklist" ADD COLUMN     "createdById" UUID;

-- AlterTable
ALTER TABLE "Invitation" ADD COLUMN     "childBirthDate" DATE,
ADD COLUMN     "childName" TEXT,
ADD COLUMN     "guardianEmail" TEXT,
ADD COLUMN     "guardianName" TEXT;

-- CreateIndex
CREATE INDEX "Invitation_programId_email_idx" ON "Invitation"("programId", "email");

