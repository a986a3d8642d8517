-- CreateIndex
CREATE INDEX "Thread_programId_guardsUntil_idx" ON "Thread"("programId", "guardsUntil");

