import type { Client } from 'pg';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { generateMoney } from './generate-money';
import { generatePractice } from './generate-practice';

/** How a generated program is made up. Every number is invented; what matters is that it grows as a program would. */
export interface Shape {
  lessons: number;
  /** Lessons of one player; one player in a hundred has ten times as many. */
  perPlayer: number;
  coaches: number;
  /** Lessons that wait, for each coach of the program: a third of them is nobody's yet. */
  waitingPerCoach: number;
}

/** Who is asked about: the program, a lead, a coach, players with ordinary and with long threads, and their payers. */
export interface Generated {
  programId: string;
  leadId: string;
  coachId: string;
  playerIds: string[];
  guardianIds: string[];
  lessonIds: string[];
  /** What somebody types: words that a handful of questions hold, that some hold, and that very many hold. */
  words: { rare: string[]; some: string[]; common: string[] };
}

/** An id that the same name and number always give, as an SQL expression. */
export type IdOf = (kind: string, n?: string) => string;

// Invented: every name is made of one of these and one of the next.
const FIRST =
  'Ada,Bela,Cleo,Dario,Elin,Faro,Gita,Hugo,Imre,Jola,Kito,Lumi,Milo,Nela,Oskar,Pia,Quin,Rosa,Sami,Tove';
const LAST =
  'Arden,Birk,Corvo,Dahl,Elms,Fenn,Gorse,Hale,Ivers,Jute,Kerr,Lund,Moor,Nash,Orme,Pike,Quill,Rook,Sorrel,Thorn';
const pick = (list: string, n: string) =>
  `(string_to_array('${list}', ','))[1 + ${n} % ${list.split(',').length}]`;

const SECONDS_OF_HISTORY = 3000 * 24 * 3600;

/**
 * Fills an empty database with one program by SQL: people, threads, lessons with events, clips, sheets given back,
 * replies, practice and money, in the shapes that the product writes. `name` tells programs of one database apart.
 * Triggers are off meanwhile: what they keep is written here, and `generateMoney` checks it.
 */
export async function generate(client: Client, name: string, shape: Shape): Promise<Generated> {
  const { lessons, perPlayer, coaches, waitingPerCoach } = shape;
  const players = Math.ceil(lessons / perPlayer);
  const long = Math.ceil(players / 100);
  const returned = lessons - coaches * waitingPerCoach;
  const id: IdOf = (kind, n = 'n') => `md5('${name} ${kind} ' || (${n})::text)::uuid`;
  const program = id('program', '0');
  const run = (sql: string, values: unknown[] = []) => client.query(sql, values);
  const ids = async (sql: string) => (await run(sql)).rows.map((row: { id: string }) => row.id);

  await run(`SET session_replication_role = replica`);
  await run(
    `INSERT INTO "Program" (id, name, "timeZone", currency, "promiseHours")
     VALUES (${program}, $1, 'America/Chicago', 'USD', 48)`,
    [name],
  );
  await run(
    `INSERT INTO "Checklist" (id, "programId", number, items) VALUES (${id('checklist', '0')}, ${program}, 1, $1)`,
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
       SELECT ${id(kind)}, ${pick(FIRST, 'n')} || ' ' || ${pick(LAST, '(n / 20)')} || '-' || initcap(substr(md5('b' || n), 1, 6)),
              '${name.toLowerCase()}.${kind}.' || n || '@example.org', date '${from}' + (n % 3600)::int
       FROM generate_series(1, ${count}) n`,
    );
    await run(
      `INSERT INTO "Membership" ("programId", "personId", role, "sortName")
       SELECT ${program}, p.id, '${role}', p.name FROM generate_series(1, ${count}) n JOIN "Person" p ON p.id = ${id(kind)}`,
    );
  }
  await run(
    `INSERT INTO "Guardianship" ("guardianId", "playerId", "verifiedAt", "createdAt")
     SELECT ${id('guardian')}, ${id('player')}, now(), now() FROM generate_series(1, ${players}) n`,
  );
  // Every fiftieth guardian has taken the consent back.
  await run(
    `INSERT INTO "Consent" (id, "programId", "playerId", "byId", scope, version, method, "givenAt", "expiresAt", "withdrawnAt")
     SELECT gen_random_uuid(), ${program}, ${id('player')}, ${id('guardian')}, 'lessons', '2026-11',
       'program-invitation', now(), now() + interval '1 year', CASE WHEN n % 50 = 0 THEN now() END
     FROM generate_series(1, ${players}) n`,
  );
  for (const { kind, count } of people.slice(0, 2)) {
    await run(
      `INSERT INTO "Clearance" (id, "programId", "personId", kind, "issuedOn", "expiresOn", "recordedById")
       SELECT gen_random_uuid(), ${program}, ${id(kind)}, what, now() - interval '1 month',
         now() + interval '1 year', ${id('lead', '1')}
       FROM generate_series(1, ${count}) n, unnest(ARRAY['background-check', 'abuse-prevention']) what`,
    );
  }
  await run(
    `INSERT INTO "Thread" (id, "programId", "playerId")
     SELECT ${id('thread')}, ${program}, ${id('player')} FROM generate_series(1, ${players}) n`,
  );
  await run(`UPDATE "Thread" SET "guardsUntil" = guards_until("programId", "playerId")`);
  // The last lessons wait; all the others were given back over the years. One in ten is of a player with a long thread.
  await run(
    `INSERT INTO "Lesson" (id, "programId", "threadId", number, "startedById", "coachId", "checklistId", state, question,
       bats, "pitchMode", "painLevel", "priceLabel", "amountMinor", currency, "promiseHours", "promisedAt", "createdAt",
       "submittedAt", "returnedAt")
     SELECT ${id('lesson')}, ${program}, ${id('thread', 'player')},
       row_number() OVER (PARTITION BY player ORDER BY n), ${id('player', 'player')},
       CASE WHEN n >= ${returned} AND n % 3 = 0 THEN NULL ELSE ${id('coach', `1 + n % ${coaches}`)} END,
       ${id('checklist', '0')},
       (CASE WHEN n < ${returned} THEN (CASE WHEN n % 4 = 0 THEN 'returned' ELSE 'closed' END)
             WHEN n % 3 = 0 THEN 'submitted' ELSE 'in_review' END)::"LessonState",
       'Why does my swing feel late ' || CASE WHEN n % 10 = 0 THEN 'outside ' ELSE '' END
         || CASE WHEN n % 300 = 0 THEN 'wobble ' ELSE '' END || 'since day q' || lpad((n / 5)::text, 7, '0'),
       'right', 'tee', CASE WHEN n % 37 = 0 THEN 3 ELSE 0 END, 'One lesson', 4500, 'USD', 48,
       at + interval '48 hours', at, at, CASE WHEN n < ${returned} THEN at + interval '30 hours' END
     FROM (SELECT n, now() - (${lessons} - n) * interval '1 second' * ${SECONDS_OF_HISTORY / lessons} AS at,
             CASE WHEN n % 10 = 0 THEN 1 + (n / 10) % ${long} ELSE 1 + ${long} + n % ${players - long} END AS player
           FROM generate_series(0, ${lessons - 1}) n) s`,
  );
  await run(
    `INSERT INTO "LessonEvent" (id, "lessonId", kind, "actorId", at)
     SELECT gen_random_uuid(), l.id, k::"LessonEventKind", CASE WHEN k = 'taken' THEN "coachId" ELSE l."startedById" END,
       l."submittedAt" + (CASE WHEN k = 'taken' THEN interval '20 hours' ELSE interval '0' END)
     FROM "Lesson" l, unnest(ARRAY['created', 'submitted', 'taken']) k WHERE k <> 'taken' OR "coachId" IS NOT NULL`,
  );
  await run(
    `INSERT INTO "Clip" (id, "lessonId", position, state, "uploadedById", "storageKey")
     SELECT gen_random_uuid(), l.id, 0, (CASE WHEN hashtext(l.id::text) % 90 = 0 THEN 'failed' ELSE 'ready' END)::"ClipState",
       l."startedById", 'clips/none' FROM "Lesson" l`,
  );
  const sheet = { version: 1, pins: [], answers: [], fixFirst: null, cues: [], marks: [] };
  await run(
    `INSERT INTO "Return" (id, "lessonId", number, sheet, "fixFirst", "byId", at)
     SELECT gen_random_uuid(), l.id, 1, $1, 'Stay through the ball', l."coachId", l."returnedAt"
     FROM "Lesson" l WHERE l."returnedAt" IS NOT NULL`,
    [JSON.stringify(sheet)],
  );
  await run(
    `INSERT INTO "Reply" (id, "threadId", "lessonId", "authorId", body, at)
     SELECT gen_random_uuid(), l."threadId", l.id, l."startedById", 'Thank you', l."returnedAt"
     FROM "Lesson" l WHERE l."returnedAt" IS NOT NULL`,
  );
  await run(
    `INSERT INTO "LessonView" ("lessonId", "personId", "firstSeenAt", "lastSeenAt")
     SELECT l.id, l."startedById", l."returnedAt" + interval '1 hour', l."returnedAt" + interval '1 hour'
     FROM "Lesson" l WHERE l."returnedAt" IS NOT NULL`,
  );
  await generatePractice(client, { id, program });
  await generateMoney(client, { id, program, players });
  await run(`SET session_replication_role = origin`);
  return {
    programId: (await ids(`SELECT ${program} AS id`))[0]!,
    leadId: (await ids(`SELECT ${id('lead', '1')} AS id`))[0]!,
    coachId: (await ids(`SELECT ${id('coach', '1')} AS id`))[0]!,
    playerIds: await ids(`SELECT ${id('player')} AS id FROM generate_series(1, ${Math.min(60, players)}) n`),
    guardianIds: await ids(
      `SELECT ${id('guardian')} AS id FROM generate_series(1, ${Math.min(60, players)}) n`,
    ),
    lessonIds: await ids(`SELECT ${id('lesson')} AS id FROM generate_series(1, 60) n`),
    words: {
      rare: Array.from(
        { length: 30 },
        (_, n) => `q${String(7 + n * Math.floor(lessons / 200)).padStart(7, '0')}`,
      ),
      some: [
        'wobble',
        'wobb',
        `q${String(Math.floor(lessons / 10))
          .padStart(7, '0')
          .slice(0, 4)}`,
      ],
      common: ['outside', 'swing late', 'ada q', 'thorn'],
    },
  };
}
