-- CreateTable
CREATE TABLE "CoachHours" (
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "hours" JSONB,
    "promiseHours" INTEGER,
    "updatedAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "CoachHours_pkey" PRIMARY KEY ("programId","personId")
);

-- CreateTable
CREATE TABLE "HandOver" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "fromId" UUID,
    "toId" UUID NOT NULL,
    "byId" UUID NOT NULL,
    "note" TEXT NOT NULL DEFAULT '',
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "HandOver_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "PromiseMove" (
    "id" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "fromAt" TIMESTAMPTZ(3) NOT NULL,
    "toAt" TIMESTAMPTZ(3) NOT NULL,
    "reason" TEXT NOT NULL,
    "byId" UUID NOT NULL,
    "at" TIMESTAMPTZ(3) NOT NULL,

    CONSTRAINT "PromiseMove_pkey" PRIMARY KEY ("id")
);

-- CreateTable
CREATE TABLE "DeskView" (
    "id" UUID NOT NULL,
    "programId" UUID NOT NULL,
    "personId" UUID NOT NULL,
    "name" TEXT NOT NULL,
    "query" TEXT NOT NULL,
    "createdAt" TIMESTAMPTZ(3) NOT NULL DEFAULT CURRENT_TIMESTAMP,

    CONSTRAINT "DeskView_pkey" PRIMARY KEY ("id")
);

-- CreateIndex
CREATE INDEX "HandOver_lessonId_at_idx" ON "HandOver"("lessonId", "at");

-- CreateIndex
CREATE INDEX "PromiseMove_lessonId_at_idx" ON "PromiseMove"("lessonId", "at");

-- CreateIndex
CREATE UNIQUE INDEX "DeskView_programId_personId_name_key" ON "DeskView"("programId", "personId", "name");

-- CreateIndex
CREATE INDEX "Lesson_coachId_returnedAt_idx" ON "Lesson"("coachId", "returnedAt");

-- AddForeignKey
ALTER TABLE "CoachHours" ADD CONSTRAINT "CoachHours_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "CoachHours" ADD CONSTRAINT "CoachHours_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "HandOver" ADD CONSTRAINT "HandOver_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "PromiseMove" ADD CONSTRAINT "PromiseMove_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE CASCADE ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DeskView" ADD CONSTRAINT "DeskView_programId_fkey" FOREIGN KEY ("programId") REFERENCES "Program"("id") ON DELETE RESTRICT ON UPDATE CASCADE;

-- AddForeignKey
ALTER TABLE "DeskView" ADD CONSTRAINT "DeskView_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE CASCADE ON UPDATE CASCADE;

