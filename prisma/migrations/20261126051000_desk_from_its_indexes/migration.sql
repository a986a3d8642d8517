-- CreateIndex
CREATE INDEX "Thread_id_guardsUntil_playerId_idx" ON "Thread"("id", "guardsUntil", "playerId");

-- What the desk asks of hundreds of lessons is read from indexes alone, whatever else their tables hold: who needs care,
-- what lies with each coach, and how long each one's latest lessons took.
DROP INDEX "Lesson_waiting_coach_idx";
CREATE INDEX "Lesson_waiting_coach_idx" ON "Lesson" ("programId", "coachId", "waitsUntil", id)
  INCLUDE ("threadId", "painLevel", state, "promisedAt") WHERE "waitsUntil" IS NOT NULL;
CREATE INDEX "Lesson_pace_idx" ON "Lesson" ("coachId", "programId", "returnedAt") INCLUDE (id, "submittedAt")
  WHERE "returnedAt" IS NOT NULL AND "submittedAt" IS NOT NULL;
CREATE INDEX "LessonEvent_taken_idx" ON "LessonEvent" ("lessonId", at) WHERE kind = 'taken';
