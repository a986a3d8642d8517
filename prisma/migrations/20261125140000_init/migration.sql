-- CreateEnum
CREATE TYPE "Role" AS ENUM ('player', 'guardian', 'coach', 'lead');

-- CreateEnum
CREATE TYPE "LessonState" AS ENUM ('draft', 'submitted', 'in_review', 'returned', 'closed', 'withdrawn');

-- CreateEnum
CREATE TYPE "LessonEventKind" AS ENUM ('created', 'submitted', 'taken', 'assigned', 'released', 'returned', 'reopened', 'closed', 'withdrawn');

-- CreateEnum
CREATE TYPE "ClipState" AS ENUM ('expected', 'uploading', 'uploaded', 'preparing', 'ready', 'failed');

-- CreateEnum
CREATE TYPE "ClipView" AS ENUM ('open_side', 'behind', 'front', 'back');

-- CreateEnum
CREATE TYPE "Hand" AS ENUM ('right', 'left');

-- CreateEnum
CREATE TYPE "PitchMode" AS ENUM ('tee', 'toss', 'machine', 'live');

-- CreateEnum
CREATE TYPE "SwingResult" AS ENUM ('line_drive', 'grounder', 'fly', 'missed');

-- CreateEnum
CREATE TYPE "LedgerKind" AS ENUM ('charge', 'payment', 'pack_sale', 'pack_use', 'waiver', 'refund', 'correction');

-- CreateTable
CREATE TABLE "Program" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "timeZone" TEXT NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "promiseHours" INTEGER NOT NULL,
    "howToPay" TEXT NOT NULL DEFAULT '',
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Program_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Person" (
    "id" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "birthDate" DATE,
    "email" TEXT,
    "passwordHash" TEXT,
    "sessionVersion" INTEGER NOT NULL DEFAULT 1,
    "bats" "Hand",
    "isDemo" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Person_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Membership" (
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "role" "Role" NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Membership_pkey" PRIMARY KEY ("programId","personId","role")
);

-- CreateTable
CREATE TABLE "Guardianship" (
    "guardianId" UUID NOT NULL,
    "playerId" UUID NOT NULL,
    "verifiedAt" TIMESTAMPTZ(3),
    "consentVersion" TEXT,
    "consentMethod" TEXT,
    "pausedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Guardianship_pkey" PRIMARY KEY ("guardianId","playerId")
);

-- CreateTable
CREATE TABLE "Invitation" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "role" "Role" NOT NULL,
    "email" TEXT NOT NULL,
    "name" TEXT NOT NULL,
    "playerId" UUID,
    "tokenHash" TEXT NOT NULL,
    "expiresAt" TIMESTAMPTZ(3) NOT NULL,
    "usedAt" TIMESTAMPTZ(3),
    "withdrawnAt" TIMESTAMPTZ(3),
    "createdById" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Invitation_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "VerificationToken" (
    "identifier" TEXT NOT NULL,
    "token" TEXT NOT NULL,
    "expires" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "VerificationToken_pkey" PRIMARY KEY ("identifier","token")
);

-- CreateTable
CREATE TABLE "EndedSession" (
    "id" UUID NOT NULL,
    "expires" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "EndedSession_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "RateLimit" (
    "key" TEXT NOT NULL,
    "points" INTEGER NOT NULL,
    "expire" TIMESTAMPTZ(3),

    CONSTRAINT "RateLimit_pkey" PRIMARY KEY ("key")
);

-- CreateTable
CREATE TABLE "Price" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "label" TEXT NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "retiredAt" TIMESTAMPTZ(3),

    CONSTRAINT "Price_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Checklist" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "items" JSONB NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Checklist_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Thread" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "playerId" UUID NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Thread_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Lesson" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "threadId" UUID NOT NULL,
    "number" INTEGER,
    "followsId" UUID,
    "startedById" UUID NOT NULL,
    "coachId" UUID,
    "checklistId" UUID NOT NULL,
    "state" "LessonState" NOT NULL DEFAULT 'draft',
    "question" TEXT NOT NULL DEFAULT '',
    "bats" "Hand",
    "pitchMode" "PitchMode",
    "pitchZone" INTEGER,
    "result" "SwingResult",
    "painLevel" INTEGER,
    "painWhere" TEXT,
    "priceLabel" TEXT,
    "amountMinor" INTEGER,
    "currency" CHAR(3),
    "promiseHours" INTEGER,
    "promisedAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "submittedAt" TIMESTAMPTZ(3),
    "returnedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Lesson_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LessonEvent" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "kind" "LessonEventKind" NOT NULL,
    "actorId" UUID NOT NULL,
    "coachId" UUID,
    "reason" TEXT,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "LessonEvent_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Clip" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "position" INTEGER NOT NULL,
    "view" "ClipView",
    "state" "ClipState" NOT NULL DEFAULT 'expected',
    "uploadedById" UUID NOT NULL,
    "declaredType" TEXT NOT NULL DEFAULT '',
    "sizeBytes" BIGINT NOT NULL DEFAULT 0,
    "md5" TEXT,
    "storageKey" TEXT,
    "progress" INTEGER NOT NULL DEFAULT 0,
    "failCode" TEXT,
    "failDetail" TEXT,
    "width" INTEGER,
    "height" INTEGER,
    "frameCount" INTEGER,
    "durationUs" BIGINT,
    "fileRate" DOUBLE PRECISION,
    "captureRate" DOUBLE PRECISION,
    "rateIsSure" BOOLEAN NOT NULL DEFAULT false,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "readyAt" TIMESTAMPTZ(3),
    "removedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Clip_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "Review" (
    "lessonId" UUID NOT NULL,
    "sheet" JSONB NOT NULL,
    "revision" INTEGER NOT NULL DEFAULT 0,
    "updatedById" UUID NOT NULL,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Review_pkey" PRIMARY KEY ("lessonId")
);

-- CreateTable
CREATE TABLE "Return" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "number" INTEGER NOT NULL,
    "sheet" JSONB NOT NULL,
    "fixFirst" TEXT NOT NULL,
    "byId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "Return_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "LessonView" (
    "lessonId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "firstSeenAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "lastSeenAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "LessonView_pkey" PRIMARY KEY ("lessonId","personId")
);

-- CreateTable
CREATE TABLE "Reply" (
    "id" UUID NOT NULL,
    "threadId" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "authorId" UUID NOT NULL,
    "body" TEXT NOT NULL,
    "clipId" UUID,
    "frame" INTEGER,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "editedAt" TIMESTAMPTZ(3),

    CONSTRAINT "Reply_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReplyEdit" (
    "id" UUID NOT NULL,
    "replyId" UUID NOT NULL,
    "body" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "ReplyEdit_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "ReadMark" (
    "personId" UUID NOT NULL,
    "threadId" UUID NOT NULL,
    "readAt" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "ReadMark_pkey" PRIMARY KEY ("personId","threadId")
);

-- CreateTable
CREATE TABLE "LedgerEntry" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "lessonId" UUID,
    "kind" "LedgerKind" NOT NULL,
    "amountMinor" INTEGER NOT NULL,
    "currency" CHAR(3) NOT NULL,
    "reason" TEXT NOT NULL DEFAULT '',
    "actorId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "LedgerEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "AuditEntry" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "actorId" UUID,
    "action" TEXT NOT NULL,
    "subject" TEXT NOT NULL,
    "data" JSONB NOT NULL DEFAULT '{}',
    "at" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "AuditEntry_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "OutboxMail" (
    "id" UUID NOT NULL,
    "kind" TEXT NOT NULL,
    "toEmail" TEXT NOT NULL,
    "data" JSONB NOT NULL,
    "notBefore" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,
    "attempts" INTEGER NOT NULL DEFAULT 0,
    "lastError" TEXT,
    "sentAt" TIMESTAMPTZ(3),
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "OutboxMail_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "WorkerBeat" (
    "id" TEXT NOT NULL,
    "version" TEXT NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "WorkerBeat_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE UNIQUE INDEX "Person_email_key" ON "Person"("email");

-- CreateIndex
CREATE INDEX "Membership_personId_idx" ON "Membership"("personId");

-- CreateIndex
CREATE INDEX "Guardianship_playerId_idx" ON "Guardianship"("playerId");

-- CreateIndex
CREATE UNIQUE INDEX "Invitation_tokenHash_key" ON "Invitation"("tokenHash");

-- CreateIndex
CREATE INDEX "Invitation_programId_createdAt_idx" ON "Invitation"("programId", "createdAt");

-- CreateIndex
CREATE UNIQUE INDEX "VerificationToken_token_key" ON "VerificationToken"("token");

-- CreateIndex
CREATE INDEX "EndedSession_expires_idx" ON "EndedSession"("expires");

-- CreateIndex
CREATE INDEX "Price_programId_idx" ON "Price"("programId");

-- CreateIndex
CREATE UNIQUE INDEX "Checklist_programId_number_key" ON "Checklist"("programId", "number");

-- CreateIndex
CREATE UNIQUE INDEX "Thread_programId_playerId_key" ON "Thread"("programId", "playerId");

-- CreateIndex
CREATE INDEX "Lesson_programId_state_promisedAt_idx" ON "Lesson"("programId", "state", "promisedAt");

-- CreateIndex
CREATE INDEX "Lesson_coachId_state_promisedAt_idx" ON "Lesson"("coachId", "state", "promisedAt");

-- CreateIndex
CREATE UNIQUE INDEX "Lesson_threadId_number_key" ON "Lesson"("threadId", "number");

-- CreateIndex
CREATE INDEX "LessonEvent_lessonId_at_idx" ON "LessonEvent"("lessonId", "at");

-- CreateIndex
CREATE INDEX "Clip_lessonId_position_idx" ON "Clip"("lessonId", "position");

-- CreateIndex
CREATE UNIQUE INDEX "Return_lessonId_number_key" ON "Return"("lessonId", "number");

-- CreateIndex
CREATE INDEX "Reply_threadId_at_idx" ON "Reply"("threadId", "at");

-- CreateIndex
CREATE INDEX "Reply_lessonId_at_idx" ON "Reply"("lessonId", "at");

-- CreateIndex
CREATE INDEX "ReplyEdit_replyId_at_idx" ON "ReplyEdit"("replyId", "at");

-- CreateIndex
CREATE INDEX "LedgerEntry_lessonId_at_idx" ON "LedgerEntry"("lessonId", "at");

-- CreateIndex
CREATE INDEX "LedgerEntry_programId_at_idx" ON "LedgerEntry"("programId", "at");

-- CreateIndex
CREATE INDEX "AuditEntry_programId_at_idx" ON "AuditEntry"("programId", "at");

-- CreateIndex
CREATE INDEX "AuditEntry_subject_at_idx" ON "AuditEntry"("subject", "at");

-- CreateIndex
CREATE INDEX "OutboxMail_sentAt_notBefore_idx" ON "OutboxMail"("sentAt", "notBefore");

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Membership" ADD CONSTRAINT "Membership_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Guardianship" ADD CONSTRAINT "Guardianship_guardianId_fkey" FOREIGN KEY ("guardianId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Guardianship" ADD CONSTRAINT "Guardianship_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Invitation" ADD CONSTRAINT "Invitation_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Price" ADD CONSTRAINT "Price_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Checklist" ADD CONSTRAINT "Checklist_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Thread" ADD CONSTRAINT "Thread_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Thread" ADD CONSTRAINT "Thread_playerId_fkey" FOREIGN KEY ("playerId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_threadId_fkey" FOREIGN KEY ("threadId") REFERENCES "Thread"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_checklistId_fkey" FOREIGN KEY ("checklistId") REFERENCES "Checklist"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_coachId_fkey" FOREIGN KEY ("coachId") REFERENCES "Person"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_startedById_fkey" FOREIGN KEY ("startedById") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Lesson" ADD CONSTRAINT "Lesson_followsId_fkey" FOREIGN KEY ("followsId") REFERENCES "Lesson"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LessonEvent" ADD CONSTRAINT "LessonEvent_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Clip" ADD CONSTRAINT "Clip_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Review" ADD CONSTRAINT "Review_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Return" ADD CONSTRAINT "Return_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LessonView" ADD CONSTRAINT "LessonView_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LessonView" ADD CONSTRAINT "LessonView_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Reply" ADD CONSTRAINT "Reply_threadId_fkey" FOREIGN KEY ("threadId") REFERENCES "Thread"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Reply" ADD CONSTRAINT "Reply_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "Reply" ADD CONSTRAINT "Reply_authorId_fkey" FOREIGN KEY ("authorId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReplyEdit" ADD CONSTRAINT "ReplyEdit_replyId_fkey" FOREIGN KEY ("replyId") REFERENCES "Reply"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReadMark" ADD CONSTRAINT "ReadMark_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "ReadMark" ADD CONSTRAINT "ReadMark_threadId_fkey" FOREIGN KEY ("threadId") REFERENCES "Thread"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "LedgerEntry" ADD CONSTRAINT "LedgerEntry_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE SET NULL ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "AuditEntry" ADD CONSTRAINT "AuditEntry_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
