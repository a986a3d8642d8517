-- What was read of a thread was read of each of its lessons.
CREATE TABLE "ReadMark_of_lesson" (
    "personId" UUID NOT NULL,
    "lessonId" UUID NOT NULL,
    "readAt" TIMESTAMPTZ(3) NOT NULL
);
INSERT INTO "ReadMark_of_lesson"
SELECT mark."personId", lesson.id, mark."readAt"
FROM "ReadMark" mark JOIN "Lesson" lesson ON lesson."threadId" = mark."threadId";

DROP TABLE "ReadMark";
ALTER TABLE "ReadMark_of_lesson" RENAME TO "ReadMark";
ALTER TABLE "ReadMark" ADD CONSTRAINT "ReadMark_pkey" PRIMARY KEY ("personId", "lessonId");
ALTER TABLE "ReadMark" ADD CONSTRAINT "ReadMark_personId_fkey" FOREIGN KEY ("personId") REFERENCES "Person"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
ALTER TABLE "ReadMark" ADD CONSTRAINT "ReadMark_lessonId_fkey" FOREIGN KEY ("lessonId") REFERENCES "Lesson"("id") ON DELETE RESTRICT ON UPDATE CASCADE;
