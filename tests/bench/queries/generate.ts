import type { Client } from 'pg';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';

/** How a generated program is made up. Every number is invented; what matters is that only `lessons` grows. */
export interface Shape {
  lessons: number;
  /** Lessons of one player; the longest threads are ten times as long. */
  perPlayer: number;
  coaches: number;
  /** Lessons that wait for a coach, of each coach. */
  waitingPerCoach: number;
}

/** Who is asked about: the program, a lead, a coach, and players with an ordinary and with a long thread. */
export interface Generated {
  programId: string;
  leadId: string;
  coachId: string;
  playerIds: string[];
  guardianIds: string[];
  lessonIds: string[];
  /** Words that a handful of questions hold, and words that every tenth one holds. */
  rareWords: string[];
  commonWords: string[];
}

const uuidOf = (kind: string, n: string) => `md5('${kind}' || ${n})::uuid`;

/**
 * Fills one program with rows by SQL: people, threads, lessons with events, clips, sheets given back, replies and
 * money, in the shapes that the product writes. `name` tells programs of one database apart.
 */
export async function generate(client: Client, name: string, shape: Shape): Promise<Generated> {
  const { lessons, perPlayer, coaches, waitingPerCoach } = shape;
  const players = Math.ceil(lessons / perPlayer);
  const waiting = coaches * waitingPerCoach;
  const id = (kind: string, n = 'n') => uuidOf(`${name} ${kind} `, `(${n})::text`);
  const run = (sql: string, values: unknown[] = []) => client.query(sql, values);
  const one = async (sql: string) => (await run(sql)).rows[0] as Record<string, string>;

  await run(
    `INSERT INTO "Program" (id, name, "timeZone", currency, "promiseHours")
     VALUES (${id('program', '0')}, $1, 'America/Chicago', 'USD', 48)`,
    [name],
  );
  await run(
    `INSERT INTO "Checklist" (id, "programId", number, items)
     VALUES (${id('checklist', '0')}, ${id('program', '0')}, 1, $1)`,
    [JSON.stringify(DEFAULT_CHECKLIST)],
  );
  const people = [
    { kind: 'lead', count: 1, role: 'lead', from: '1980-01-01' },
    { kind: 'coach', count: coaches, role: 'coach', from: '1985-01-01' },
    { kind: 'player', count: players, role: 'player', from: '2005-01-01' },
    { kind: 'guardian', count: players, role: 'guardian', from: '1975-01-01' },
  ];
  for (const { kind, count, role, from } of people) {
    await run(
      `INSERT INTO "Person" (id, name, email, "birthDate")
       SELECT ${id(kind)}, initcap(substr(md5('a' || n), 1, 6)) || ' ' || initcap(substr(md5('b' || n), 1, 8)),
              '${name.toLowerCase()}.${kind}.' || n || '@example.org', date '${from}' + (n % 3600)::int
       FROM generate_series(1, ${count}) n`,
    );
    await run(
      `INSERT INTO "Membership" ("programId", "personId", role)
       SELECT ${id('program', '0')}, ${id(kind)}, '${role}' FROM generate_series(1, ${count}) n`,
    );
  }
  await run(
    `INSERT INTO "Guardianship" ("guardianId", "playerId", "verifiedAt")
     SELECT ${id('guardian')}, ${id('player')}, now() FROM generate_series(1, ${players}) n`,
  );
  await run(
    `INSERT INTO "Consent" (id, "programId", "playerId", "byId", scope, version, method, "givenAt", "expiresAt")
     SELECT gen_random_uuid(), ${id('program', '0')}, ${id('player')}, ${id('guardian')}, 'lessons', '2026-11',
       'program-invitation', now(), now() + interval '1 year' FROM generate_series(1, ${players}) n`,
  );
  for (const { kind, count } of people.slice(0, 2)) {
    await run(
      `INSERT INTO "Clearance" (id, "programId", "personId", kind, "issuedOn", "expiresOn", "recordedById")
       SELECT gen_random_uuid(), ${id('program', '0')}, ${id(kind)}, what, now() - interval '1 month',
         now() + interval '1 year', ${id('lead', '1')}
       FROM generate_series(1, ${count}) n, unnest(ARRAY['background-check', 'abuse-prevention']) what`,
    );
  }
  await run(
    `INSERT INTO "Thread" (id, "programId", "playerId")
     SELECT ${id('thread')}, ${id('program', '0')}, ${id('player')} FROM generate_series(1, ${players}) n`,
  );
  // The last `waiting` lessons wait; all the others were given back over the years.
  await run(
    `INSERT INTO "Lesson" (id, "programId", "threadId", number, "startedById", "coachId", "checklistId", state, question,
       bats, "pitchMode", "priceLabel", "amountMinor", currency, "promiseHours", "promisedAt", "createdAt",
       "submittedAt", "returnedAt")
     SELECT ${id('lesson')}, ${id('program', '0')}, ${id('thread', `1 + n % ${players}`)}, 1 + n / ${players},
       ${id('player', `1 + n % ${players}`)},
       CASE WHEN n >= ${lessons - waiting} AND n % 3 = 0 THEN NULL ELSE ${id('coach', `1 + n % ${coaches}`)} END,
       ${id('checklist', '0')},
       (CASE WHEN n < ${lessons - waiting} THEN (CASE WHEN n % 4 = 0 THEN 'returned' ELSE 'closed' END)
             WHEN n % 3 = 0 THEN 'submitted' ELSE 'in_review' END)::"LessonState",
       'Why does my swing feel late ' || CASE WHEN n % 10 = 0 THEN 'outside ' ELSE '' END || substr(md5('q' || n / 5), 1, 7),
       'right', 'tee', 'One lesson', 4500, 'USD', 48,
       at + interval '48 hours', at, at, CASE WHEN n < ${lessons - waiting} THEN at + interval '30 hours' END
     FROM (SELECT n, now() - (${lessons} - n) * (interval '3000 days' / ${lessons}) AS at
           FROM generate_series(0, ${lessons - 1}) n) s`,
  );
  await run(
    `INSERT INTO "LessonEvent" (id, "lessonId", kind, "actorId", at)
     SELECT gen_random_uuid(), l.id, k::"LessonEventKind", l."startedById", l."submittedAt"
     FROM "Lesson" l, unnest(ARRAY['created', 'submitted']) k WHERE l."programId" = ${id('program', '0')}`,
  );
  await run(
    `INSERT INTO "Clip" (id, "lessonId", position, state, "uploadedById", "storageKey")
     SELECT gen_random_uuid(), l.id, 0, 'ready', l."startedById", 'clips/none'
     FROM "Lesson" l WHERE l."programId" = ${id('program', '0')}`,
  );
  // Each lesson was charged to the guardian; all but the newest hundred and some old ones were paid.
  await run(
    `INSERT INTO "LedgerEntry" (id, "programId", "lessonId", "payerId", kind, "amountMinor", currency, "actorId", at, "dueAt", method)
     SELECT gen_random_uuid(), l."programId", l.id, g."guardianId", k::"LedgerKind", 4500, 'USD', l."startedById",
       l."submittedAt" + (CASE WHEN k = 'payment' THEN interval '2 days' ELSE interval '0' END),
       CASE WHEN k = 'charge' THEN l."submittedAt" + interval '14 days' END,
       CASE WHEN k = 'payment' THEN 'transfer'::"PayMethod" END
     FROM "Lesson" l
     JOIN "Thread" t ON t.id = l."threadId"
     JOIN "Guardianship" g ON g."playerId" = t."playerId",
       unnest(ARRAY['charge', 'payment']) WITH ORDINALITY AS k (k, place)
     WHERE l."programId" = ${id('program', '0')} AND l."returnedAt" IS NOT NULL
       AND (k = 'charge' OR (l.number % 97 <> 0 AND l."submittedAt" < now() - interval '3 days'))
     ORDER BY place`,
  );
  const sheet = { version: 1, pins: [], answers: [], fixFirst: null, cues: [], marks: [] };
  await run(
    `INSERT INTO "Return" (id, "lessonId", number, sheet, "fixFirst", "byId", at)
     SELECT gen_random_uuid(), l.id, 1, $1, 'Stay through the ball', l."coachId", l."returnedAt"
     FROM "Lesson" l WHERE l."programId" = ${id('program', '0')} AND l."returnedAt" IS NOT NULL`,
    [JSON.stringify(sheet)],
  );
  await run(
    `INSERT INTO "Reply" (id, "threadId", "lessonId", "authorId", body, at)
     SELECT gen_random_uuid(), l."threadId", l.id, l."startedById", 'Thank you', l."returnedAt"
     FROM "Lesson" l WHERE l."programId" = ${id('program', '0')} AND l."returnedAt" IS NOT NULL`,
  );
  return {
    programId: (await one(`SELECT ${id('program', '0')} AS id`)).id!,
    leadId: (await one(`SELECT ${id('lead', '1')} AS id`)).id!,
    coachId: (await one(`SELECT ${id('coach', '1')} AS id`)).id!,
    playerIds: (
      await run(`SELECT ${id('player')} AS id FROM generate_series(1, least(60, ${players})) n`)
    ).rows.map((row: { id: string }) => row.id),
    guardianIds: (
      await run(`SELECT ${id('guardian')} AS id FROM generate_series(1, least(60, ${players})) n`)
    ).rows.map((row: { id: string }) => row.id),
    lessonIds: (await run(`SELECT ${id('lesson')} AS id FROM generate_series(1, 60) n`)).rows.map(
      (row: { id: string }) => row.id,
    ),
    rareWords: (
      await run(`SELECT substr(md5('q' || n), 1, 7) AS word FROM generate_series(7, 36) n`)
    ).rows.map((row: { word: string }) => row.word),
    commonWords: ['outside', 'swing late'],
  };
}
