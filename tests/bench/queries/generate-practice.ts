import type { Client } from 'pg';
import type { IdOf } from './generate';

/** Drills, what was given of them in every fifth lesson, how it was practised, and who of the staff was shown what. */
export async function generatePractice(client: Client, { id, program }: { id: IdOf; program: string }) {
  await client.query(
    `INSERT INTO "Drill" (id, "programId", "seriesId", number, title, steps, stages, safety, "itemIds")
     SELECT ${id('drill')}, ${program}, ${id('drill')}, 1, 'Drill ' || n, ARRAY['Swing'], ARRAY['tee']::"DrillStage"[],
       ARRAY['Clear space'], '{}'::text[] FROM generate_series(1, 12) n`,
  );
  const dose = {
    ...{ sets: 2, reps: 8, restSeconds: 60, daysAWeek: 3, stage: 'tee', tee: null, hasFeedback: false },
    stopRule: 'Stop when anything hurts.',
  };
  // Those of the last weeks go on, the earlier ones are over. A swing by a day is asked for with every tenth.
  await client.query(
    `INSERT INTO "Assignment" (id, "programId", "lessonId", "playerId", "drillId", position, dose, "swingBy", "givenAt", "endedAt")
     SELECT gen_random_uuid(), l."programId", l.id, l."startedById", ${id('drill', '1 + l.number % 12')}, 0, $1,
       CASE WHEN l.number % 50 = 0 THEN (l."returnedAt" + interval '10 days')::date END, l."returnedAt",
       CASE WHEN l."returnedAt" < now() - interval '60 days' THEN l."returnedAt" + interval '30 days' END
     FROM "Lesson" l WHERE l."returnedAt" IS NOT NULL AND l.number % 5 = 0`,
    [JSON.stringify(dose)],
  );
  await client.query(
    `INSERT INTO "CheckIn" (id, "assignmentId", "byId", day, "setsDone", "repsDone", feel, "painLevel", at)
     SELECT gen_random_uuid(), a.id, a."playerId", (a."givenAt" + d * interval '1 day')::date, 2, 16, 4, 0, a."givenAt" + d * interval '1 day'
     FROM "Assignment" a, generate_series(1, 3) d`,
  );
  await client.query(
    `INSERT INTO "AuditEntry" (id, "programId", "actorId", action, subject, data, at)
     SELECT gen_random_uuid(), l."programId", coalesce(l."coachId", l."startedById"), what,
       CASE WHEN what = 'minor.shown' THEN 'person:' || l."startedById" ELSE 'lesson:' || l.id END,
       CASE WHEN what = 'minor.shown' THEN jsonb_build_object('what', 'lesson', 'id', l.id) ELSE '{}'::jsonb END,
       l."submittedAt"
     FROM "Lesson" l, unnest(ARRAY['lesson.submitted', 'minor.shown', 'lesson.returned']) what
     WHERE what <> 'lesson.returned' OR l."returnedAt" IS NOT NULL`,
  );
}
