-- Full text (PostgreSQL's "simple" configuration: names and questions come in every language). Expressions, not
-- columns: nothing is stored twice, and lib/data/search.read.ts must write them exactly so. Apostrophes and hyphens
-- part words, as they do in what somebody types; left alone the curly one counts as a letter.
CREATE INDEX "Person_name_words_idx" ON "Person" USING gin (to_tsvector('simple', translate("name", '’‘''-', '    ')));
CREATE INDEX "Lesson_question_words_idx" ON "Lesson" USING gin (to_tsvector('simple', translate("question", '’‘''-', '    ')));

-- The newest lessons of a program: for words that many questions hold, reading backwards is the shorter way.
CREATE INDEX "Lesson_programId_submittedAt_id_idx" ON "Lesson"("programId", "submittedAt", "id");

-- What was returned this week.
CREATE INDEX "Lesson_programId_returnedAt_id_idx" ON "Lesson"("programId", "returnedAt", "id");
