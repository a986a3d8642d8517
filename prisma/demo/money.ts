import type { Prisma } from '../../lib/data/generated/client';
import type { Tx } from '../../lib/data/client';
import { numberDocument } from '../../lib/data/number-document';
import type { DocumentKind } from '../../lib/domain/billing/documents';
import type { LedgerKind } from '../../lib/domain/billing/ledger';
import { METHOD_WORD } from '../../lib/domain/billing/methods';
import { validUntil } from '../../lib/domain/billing/packs';
import { dueAfter, PLAIN_POLICY } from '../../lib/domain/billing/policy';
import { factsOf } from '../../lib/workflows/issue-document';
import { demoId } from './ids';

const DAY_MS = 86_400_000;

/** Packs that were sold in the demo; lessons name them by key. */
const PACKS = [
  { key: 'five-for-mina', payer: 'joel', soldDaysAgo: 24, lessons: 5, amountMinor: 15000, paidMinor: 15000 },
];
/** Lessons that were taken from a pack, and which. */
const TAKEN_FROM = new Map([['mina-2', 'five-for-mina']]);
const LABEL = 'Five lessons';
const VALID_DAYS = 365;

/** The pack of the price list, and the packs that were sold: one of five lessons, paid, for a family. */
export async function writePacks(tx: Prisma.TransactionClient, programId: string, now: Date): Promise<void> {
  const priceId = demoId('price/pack');
  const price = { label: LABEL, lessons: 5, validDays: VALID_DAYS, amountMinor: 15000, currency: 'USD' };
  await tx.price.create({
    data: {
      ...price,
      id: priceId,
      seriesId: priceId,
      programId,
      kind: 'pack',
      createdAt: new Date(now.getTime() - 90 * DAY_MS),
    },
  });
  for (const pack of PACKS) {
    const soldAt = new Date(now.getTime() - pack.soldDaysAgo * DAY_MS);
    const id = demoId(`pack/${pack.key}`);
    const payerId = demoId(pack.payer);
    const { lessons, amountMinor } = pack;
    const common = { programId, payerId, currency: 'USD' };
    await tx.pack.create({
      data: {
        ...common,
        id,
        priceId,
        label: LABEL,
        lessons,
        amountMinor,
        policy: PLAIN_POLICY,
        soldAt,
        validUntil: validUntil(soldAt, VALID_DAYS),
      },
    });
    await tx.ledgerEntry.create({
      data: {
        ...common,
        id: demoId(`pack/${pack.key}/sale`),
        packId: id,
        kind: 'pack_sale',
        amountMinor,
        reason: LABEL,
        dueAt: dueAfter(soldAt, PLAIN_POLICY),
        actorId: demoId('noor'),
        at: soldAt,
      },
    });
    await tx.ledgerEntry.create({
      data: {
        ...common,
        id: demoId(`pack/${pack.key}/payment`),
        packId: id,
        kind: 'payment',
        amountMinor: pack.paidMinor,
        method: 'transfer',
        actorId: demoId('noor'),
        at: new Date(soldAt.getTime() + 2 * DAY_MS),
      },
    });
  }
}

/** Takes the lesson from the pack that the demo names for it, right after it was charged. */
export async function takeFromPack(tx: Prisma.TransactionClient, lessonKey: string, at: Date): Promise<void> {
  const pack = TAKEN_FROM.get(lessonKey);
  if (!pack) return;
  const charge = await tx.ledgerEntry.findFirstOrThrow({
    where: { lessonId: demoId(lessonKey), kind: 'charge' },
  });
  const { programId, payerId, lessonId, amountMinor, currency, actorId } = charge;
  await tx.ledgerEntry.create({
    data: {
      ...{ programId, payerId, lessonId, amountMinor, currency, actorId, at },
      id: demoId(`${lessonKey}/pack-use`),
      packId: demoId(`pack/${pack}`),
      kind: 'pack_use',
      reason: LABEL,
    },
  });
}

const DOCUMENT: Partial<Record<LedgerKind, DocumentKind>> = {
  charge: 'invoice',
  pack_sale: 'invoice',
  payment: 'receipt',
  refund: 'credit_note',
};

/** Invoices, receipts and credit notes of everything that happened, numbered in its order. */
export async function writeDocuments(tx: Prisma.TransactionClient, programId: string): Promise<void> {
  const program = await tx.program.findUniqueOrThrow({ where: { id: programId } });
  const entries = await tx.ledgerEntry.findMany({
    where: { programId },
    include: { payer: true, lesson: true, pack: true },
    orderBy: [{ at: 'asc' }, { id: 'asc' }],
  });
  const packed = new Set(entries.flatMap((one) => (one.kind === 'pack_use' ? [one.lessonId] : [])));
  const owed = new Map<string, number>();
  for (const entry of entries) {
    const subject = entry.lessonId ?? entry.packId ?? '';
    const raises = ['charge', 'pack_sale', 'correction'].includes(entry.kind);
    const change = raises ? entry.amountMinor : entry.kind === 'refund' ? 0 : -entry.amountMinor;
    owed.set(subject, (owed.get(subject) ?? 0) + change);
    const kind = DOCUMENT[entry.kind];
    if (!kind || (entry.kind === 'charge' && packed.has(entry.lessonId))) continue;
    const label = entry.pack?.label ?? `One lesson, number ${entry.lesson?.number ?? 0}`;
    const facts = factsOf(program, entry.payer.name, {
      entryId: entry.id,
      kind,
      label,
      amountMinor: entry.amountMinor,
      currency: entry.currency,
      method: entry.method && METHOD_WORD[entry.method],
      reason: kind === 'credit_note' ? entry.reason : '',
      dueAt: entry.dueAt,
      stillOwedMinor: owed.get(subject) ?? 0,
      policy: PLAIN_POLICY,
    });
    const place = { programId, payerId: entry.payerId, lessonId: entry.lessonId, packId: entry.packId };
    await numberDocument(tx as unknown as Tx, place, { entryId: entry.id, kind, facts, at: entry.at });
  }
}
