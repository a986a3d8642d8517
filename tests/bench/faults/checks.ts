import { createHash } from 'node:crypto';
import { readFile } from 'node:fs/promises';
import path from 'node:path';
import type { Client } from 'pg';
import { accountOf, type LedgerFact } from '@/lib/domain/billing/ledger';
import { standingOf, type LessonFact } from '@/lib/domain/lessons/fold';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Acknowledged, Kind } from './book';

/** Sentences about what is not as it has to be. */
export interface Findings {
  lost: string[];
  doubled: string[];
  inconsistent: string[];
}

type Row = Record<string, unknown>;

/** Each command that was acknowledged is there, with what was acknowledged. Looks with one query a kind. */
async function lostOf(client: Client, acknowledged: readonly Acknowledged[]): Promise<string[]> {
  const has: Record<Kind, { sql: string; fits?: (row: Row, facts: Row) => boolean }> = {
    submit: {
      sql: `SELECT id, number FROM "Lesson" WHERE id = ANY($1) AND state <> 'draft'`,
      fits: (row, facts) => row.number === facts.number,
    },
    take: { sql: `SELECT "lessonId" AS id FROM "LessonEvent" WHERE "lessonId" = ANY($1) AND kind = 'taken'` },
    return: {
      sql: `SELECT l.id FROM "Lesson" l JOIN "Return" r ON r."lessonId" = l.id
            WHERE l.id = ANY($1) AND l.state = 'returned'`,
    },
    reply: { sql: `SELECT id FROM "Reply" WHERE id = ANY($1)` },
    payment: {
      sql: `SELECT id, "amountMinor" FROM "LedgerEntry" WHERE id = ANY($1) AND kind = 'payment'`,
      fits: (row, facts) => row.amountMinor === facts.amountMinor,
    },
    'pack-payment': {
      sql: `SELECT id, "amountMinor" FROM "LedgerEntry" WHERE id = ANY($1) AND kind = 'payment'`,
      fits: (row, facts) => row.amountMinor === facts.amountMinor,
    },
    card: {
      sql: `SELECT c.id, sum(e."amountMinor")::int AS "amountMinor" FROM "CardPayment" c
            JOIN "LedgerEntry" e ON e."lessonId" = c."lessonId" AND e.method = 'card'
            WHERE c.id = ANY($1) AND c.state = 'paid' GROUP BY c.id`,
      fits: (row, facts) => row.amountMinor === facts.amountMinor,
    },
    pack: {
      sql: `SELECT p.id FROM "Pack" p JOIN "LedgerEntry" e ON e."packId" = p.id AND e.kind = 'pack_sale'
            WHERE p.id = ANY($1)`,
    },
    upload: {
      sql: `SELECT id, md5 FROM "Clip" WHERE id = ANY($1) AND "storageKey" IS NOT NULL`,
      fits: (row, facts) => row.md5 === facts.md5,
    },
  };
  const lost: string[] = [];
  for (const [kind, { sql, fits }] of Object.entries(has)) {
    const acts = acknowledged.filter((act) => act.kind === kind);
    const { rows } = await client.query<Row>(sql, [acts.map((act) => act.id)]);
    const byId = new Map(rows.map((row) => [row.id, row]));
    for (const act of acts) {
      const row = byId.get(act.id);
      if (!row) lost.push(`${kind} ${act.id} was acknowledged and is not there`);
      else if (fits && !fits(row, act.facts))
        lost.push(
          `${kind} ${act.id} was acknowledged as ${JSON.stringify(act.facts)}, and is ${JSON.stringify(row)}`,
        );
    }
  }
  return lost;
}

// What may be there once only, whatever was tried again.
const ONCE: Record<string, string> = {
  'events of a lesson': `SELECT "lessonId", kind FROM "LessonEvent" GROUP BY 1, 2 HAVING count(*) > 1`,
  'numbers in a thread': `SELECT "threadId", number FROM "Lesson" WHERE number IS NOT NULL GROUP BY 1, 2 HAVING count(*) > 1`,
  'returns of a lesson': `SELECT "lessonId" FROM "Return" GROUP BY 1 HAVING count(*) > 1`,
  'charges of a lesson': `SELECT "lessonId" FROM "LedgerEntry" WHERE kind = 'charge' GROUP BY 1 HAVING count(*) > 1`,
  'pack uses of a lesson': `SELECT "lessonId" FROM "LedgerEntry" WHERE kind = 'pack_use' GROUP BY 1 HAVING count(*) > 1`,
  'card payments of a lesson': `SELECT "lessonId" FROM "LedgerEntry" WHERE method = 'card' GROUP BY 1 HAVING count(*) > 1`,
  'cash payments of a lesson': `SELECT "lessonId" FROM "LedgerEntry" WHERE method = 'cash' GROUP BY 1 HAVING count(*) > 1`,
  'documents of an entry': `SELECT "entryId", kind FROM "BillingDocument" GROUP BY 1, 2 HAVING count(*) > 1`,
  'notices of one thing': `SELECT "personId", kind, path, data FROM "Notice" GROUP BY 1, 2, 3, 4 HAVING count(*) > 1`,
  'lines of the audit': `SELECT action, subject, data FROM "AuditEntry" WHERE action <> 'document.opened' GROUP BY 1, 2, 3 HAVING count(*) > 1`,
};

async function doubledOf(client: Client): Promise<string[]> {
  const doubled: string[] = [];
  for (const [what, sql] of Object.entries(ONCE)) {
    const { rows } = await client.query<Row>(sql);
    for (const row of rows) doubled.push(`${what}: ${JSON.stringify(row)}`);
  }
  return doubled;
}

async function unfolded(client: Client): Promise<string[]> {
  const { rows } = await client.query<{
    id: string;
    state: string;
    coachId: string | null;
    facts: LessonFact[];
  }>(
    `SELECT l.id, l.state, l."coachId",
       json_agg(json_build_object('kind', e.kind, 'coachId', e."coachId") ORDER BY e.at, e.id) AS facts
     FROM "Lesson" l JOIN "LessonEvent" e ON e."lessonId" = l.id GROUP BY l.id`,
  );
  return rows.flatMap(({ id, state, coachId, facts }) => {
    const standing = standingOf(facts);
    const isSame = standing?.state === state && standing.coachId === coachId;
    return isSame ? [] : [`lesson ${id} is ${state}, and its events say ${standing?.state}`];
  });
}

async function unbalanced(client: Client): Promise<string[]> {
  const { rows } = await client.query<{ subject: string; balance: Row; facts: LedgerFact[] }>(
    `SELECT b.subject, to_json(b) AS balance, json_agg(json_build_object(
        'id', e.id, 'kind', e.kind, 'amountMinor', e."amountMinor", 'takesBackId', e."takesBackId")) AS facts
     FROM "Balance" b JOIN "LedgerEntry" e ON
       CASE WHEN b."lessonId" IS NOT NULL THEN e."lessonId" = b."lessonId"
            WHEN b."packId" IS NOT NULL THEN e."packId" = b."packId" AND e."lessonId" IS NULL
            ELSE e."payerId" = b."payerId" AND e."lessonId" IS NULL AND e."packId" IS NULL END
     GROUP BY b.subject`,
  );
  return rows.flatMap(({ subject, balance, facts }) => {
    const account = accountOf(facts);
    const isSame =
      account.owedMinor === balance.owedMinor &&
      account.chargedMinor === balance.chargedMinor &&
      account.receivedMinor === Number(balance.paidMinor) - Number(balance.refundedMinor);
    return isSame ? [] : [`${subject}: kept ${JSON.stringify(balance)}, folded ${JSON.stringify(account)}`];
  });
}

// Each of these may have no rows.
const NONE: Record<string, string> = {
  'a sent lesson without its charge or pack use': `SELECT id FROM "Lesson" l WHERE number IS NOT NULL
     AND NOT EXISTS (SELECT 1 FROM "LedgerEntry" e WHERE e."lessonId" = l.id AND e.kind IN ('charge', 'pack_use'))`,
  'a pack used more or less often than its entries say': `SELECT id FROM "Pack" p WHERE "usedLessons" < 0
     OR "usedLessons" <> (SELECT count(*) FROM "LedgerEntry" e WHERE e."packId" = p.id AND e.kind = 'pack_use')
       - (SELECT count(*) FROM "LedgerEntry" e WHERE e."packId" = p.id AND e."takesBackId" IS NOT NULL)`,
  'money without its document': `SELECT e.id FROM "LedgerEntry" e WHERE e.kind IN ('payment', 'pack_sale')
     AND NOT EXISTS (SELECT 1 FROM "BillingDocument" d WHERE d."entryId" = e.id)`,
  'a hole in the numbers of documents': `SELECT "programId", kind FROM "BillingDocument" GROUP BY 1, 2
     HAVING max(number) - min(number) + 1 <> count(*)`,
  'a mail that never left': `SELECT id, kind, attempts, "lastError" FROM "OutboxMail" WHERE "sentAt" IS NULL`,
  'a job that nobody is at': `SELECT name, state, started_on FROM pgboss.job WHERE state IN ('active', 'retry')`,
  'a clip that was sent whole and never got ready': `SELECT id, state, "failCode" FROM "Clip"
     WHERE "storageKey" IS NOT NULL AND state <> 'ready'`,
};

async function strayFiles(client: Client, dataDir: string): Promise<string[]> {
  const tables: Record<string, string> = { clips: 'Clip', breakdowns: 'Breakdown', remarks: 'Remark' };
  const keys = await createLocalStorage(`${dataDir}/storage`).list('');
  const strays: string[] = [];
  for (const [folder, table] of Object.entries(tables)) {
    const { rows } = await client.query<{ id: string }>(`SELECT id FROM "${table}"`);
    const known = new Set(rows.map((row) => row.id));
    strays.push(...keys.filter((key) => key.startsWith(`${folder}/`) && !known.has(key.split('/')[1] ?? '')));
  }
  strays.push(...keys.filter((key) => !tables[key.split('/')[0] ?? '']));
  return strays.map((key) => `the file ${key} belongs to nothing`);
}

/** The bytes of each clip are those that its row tells of. */
async function spoiltClips(client: Client, dataDir: string): Promise<string[]> {
  const { rows } = await client.query<{ key: string; md5: string }>(
    `SELECT "storageKey" AS key, md5 FROM "Clip" WHERE "storageKey" IS NOT NULL`,
  );
  const spoilt: string[] = [];
  for (const { key, md5 } of rows) {
    const bytes = await readFile(path.join(dataDir, 'storage', key)).catch(() => null);
    const found = bytes && createHash('md5').update(bytes).digest('hex');
    if (found !== md5) spoilt.push(`${key} is ${found ?? 'not there'} and should be ${md5}`);
  }
  return spoilt;
}

/** Everything that is to be found in the database and the storage once all is quiet. */
export async function findFaults(
  client: Client,
  dataDir: string,
  acknowledged: readonly Acknowledged[],
): Promise<Findings> {
  const inconsistent = [
    ...(await unfolded(client)),
    ...(await unbalanced(client)),
    ...(await strayFiles(client, dataDir)),
    ...(await spoiltClips(client, dataDir)),
  ];
  for (const [what, sql] of Object.entries(NONE)) {
    const { rows } = await client.query<Row>(sql);
    for (const row of rows) inconsistent.push(`${what}: ${JSON.stringify(row)}`);
  }
  return { lost: await lostOf(client, acknowledged), doubled: await doubledOf(client), inconsistent };
}
