import type { Client } from 'pg';
import type { IdOf } from './generate';

/**
 * Each lesson that was given back was charged to the guardian; all but those of the last days and some old ones were
 * paid; some payers bought a pack; invoices and receipts. The sums that triggers keep are written from the entries.
 */
export async function generateMoney(
  client: Client,
  { id, program, players }: { id: IdOf; program: string; players: number },
) {
  const run = (sql: string, values: unknown[] = []) => client.query(sql, values);
  await run(
    `INSERT INTO "Price" (id, "programId", "seriesId", kind, lessons, "validDays", label, "amountMinor", currency)
     SELECT ${id('price')}, ${program}, ${id('price')}, (CASE WHEN n = 1 THEN 'lesson' ELSE 'pack' END)::"PriceKind",
       CASE WHEN n = 1 THEN 1 ELSE 5 END, CASE WHEN n = 2 THEN 180 END, 'Price ' || n, 4500 * n, 'USD'
     FROM generate_series(1, 2) n`,
  );
  const policy = { version: 1, dueDays: 14, keptPercent: 100, terms: '' };
  await run(
    `INSERT INTO "Pack" (id, "programId", "payerId", "priceId", label, lessons, "amountMinor", currency, policy, "soldAt", "validUntil")
     SELECT ${id('pack')}, ${program}, ${id('guardian')}, ${id('price', '2')}, 'Price 2', 5, 9000, 'USD', $1,
       at, at + interval '180 days'
     FROM (SELECT n, now() - (${players} - n) * (interval '2000 days' / ${players}) AS at FROM generate_series(10, ${players}, 10) n) s`,
    [JSON.stringify(policy)],
  );
  await run(
    `INSERT INTO "LedgerEntry" (id, "programId", "lessonId", "payerId", kind, "amountMinor", currency, "actorId", at, "dueAt", method)
     SELECT gen_random_uuid(), l."programId", l.id, g."guardianId", k::"LedgerKind", 4500, 'USD', l."startedById",
       l."submittedAt" + (CASE WHEN k = 'payment' THEN interval '2 days' ELSE interval '0' END),
       CASE WHEN k = 'charge' THEN l."submittedAt" + interval '14 days' END,
       CASE WHEN k = 'payment' THEN 'transfer'::"PayMethod" END
     FROM "Lesson" l
     JOIN "Guardianship" g ON g."playerId" = l."startedById",
       unnest(ARRAY['charge', 'payment']) AS k
     WHERE l."returnedAt" IS NOT NULL
       AND (k = 'charge' OR (l.number % 97 <> 0 AND l."submittedAt" < now() - interval '3 days'))`,
  );
  await run(
    `INSERT INTO "LedgerEntry" (id, "programId", "packId", "payerId", kind, "amountMinor", currency, "actorId", at, "dueAt", method)
     SELECT gen_random_uuid(), p."programId", p.id, p."payerId", k::"LedgerKind", p."amountMinor", 'USD', ${id('lead', '1')},
       p."soldAt", CASE WHEN k = 'pack_sale' THEN p."soldAt" + interval '14 days' END,
       CASE WHEN k = 'payment' THEN 'transfer'::"PayMethod" END
     FROM "Pack" p, unnest(ARRAY['pack_sale', 'payment']) k`,
  );
  await run(
    `INSERT INTO "Balance" (subject, "programId", "payerId", "lessonId", "packId", currency, "chargedMinor", "paidMinor",
       "owedMinor", "dueAt", since)
     SELECT coalesce('lesson:' || "lessonId", 'pack:' || "packId"), "programId", "payerId", "lessonId", "packId", currency,
       sum("amountMinor") FILTER (WHERE kind <> 'payment'), coalesce(sum("amountMinor") FILTER (WHERE kind = 'payment'), 0),
       sum(CASE WHEN kind = 'payment' THEN -"amountMinor" ELSE "amountMinor" END), max("dueAt"), min(at)
     FROM "LedgerEntry" GROUP BY "programId", "payerId", "lessonId", "packId", currency`,
  );
  await run(`SELECT count_months(${program})`);
  const facts = {
    ...{ version: 1, programName: 'Generated', timeZone: 'America/Chicago', payerName: 'Invented Payer' },
    ...{
      lines: [{ label: 'One lesson', amountMinor: 4500 }],
      totalMinor: 4500,
      currency: 'USD',
      method: null,
    },
    ...{ reason: '', dueAt: null, stillOwedMinor: 0, howToPay: '', terms: '' },
  };
  await run(
    `INSERT INTO "BillingDocument" (id, "programId", "payerId", kind, number, "lessonId", "packId", "entryId", facts, at)
     SELECT gen_random_uuid(), e."programId", e."payerId", what::"DocumentKind",
       row_number() OVER (PARTITION BY what ORDER BY e.at), e."lessonId", e."packId", e.id, $1, e.at
     FROM (SELECT *, CASE WHEN kind = 'payment' THEN 'receipt' ELSE 'invoice' END AS what FROM "LedgerEntry") e`,
    [JSON.stringify(facts)],
  );
}
