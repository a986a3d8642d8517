-- What is nobody's yet, in order of promise: "coachId" IS NULL within a wider index would be sorted anew each time.
CREATE INDEX "Lesson_waiting_open_idx" ON "Lesson" ("programId", "waitsUntil", id)
  WHERE "waitsUntil" IS NOT NULL AND "coachId" IS NULL;
