import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import { PLAIN_POLICY } from '@/lib/domain/billing/policy';
import type { CardPaymentId, DocumentId, PackId } from '@/lib/domain/shared/ids';
import { aFacts } from '../domain/billing/document-facts';

// Builders for money, as in build.ts. Balances and uses of packs follow from the entries: the database keeps them.

type Overrides<T> = Partial<Omit<T, 'id'>> & { id?: string };
const FAR = new Date('2100-01-01T00:00:00Z');

/** A pack on the price list: five lessons, valid a year. */
export async function buildPackPrice(
  program: { id: string },
  overrides: Overrides<Prisma.PriceUncheckedCreateInput> = {},
) {
  const facts = { label: 'Five lessons', lessons: 5, validDays: 365, amountMinor: 20000, currency: 'USD' };
  return prisma.price.create({
    data: { id: uuid(), seriesId: uuid(), programId: program.id, kind: 'pack', ...facts, ...overrides },
  });
}

/** A pack that the payer has bought and still owes. */
export async function buildPack(
  program: { id: string },
  payer: { id: string },
  overrides: Overrides<Prisma.PackUncheckedCreateInput> = {},
) {
  const price = await buildPackPrice(program);
  const soldAt = new Date('2026-05-01T12:00:00Z');
  const { label, lessons, amountMinor, currency } = price;
  const row = await prisma.pack.create({
    data: {
      ...{ id: uuid(), programId: program.id, payerId: payer.id, priceId: price.id },
      ...{ label, lessons, amountMinor, currency, policy: PLAIN_POLICY, soldAt, validUntil: FAR },
      ...overrides,
    },
  });
  await prisma.ledgerEntry.create({
    data: {
      id: uuid(),
      programId: program.id,
      payerId: payer.id,
      packId: row.id,
      kind: 'pack_sale',
      amountMinor: row.amountMinor,
      currency: row.currency,
      dueAt: new Date(row.soldAt.getTime() + 14 * 86_400_000),
      actorId: payer.id,
      at: row.soldAt,
    },
  });
  return { ...row, id: row.id as PackId, price };
}

/** Money that a payer paid too much: it belongs to nothing but the payer. */
export async function buildPaidTooMuch(program: { id: string }, payer: { id: string }, amountMinor = 500) {
  return prisma.ledgerEntry.create({
    data: {
      id: uuid(),
      programId: program.id,
      payerId: payer.id,
      kind: 'payment',
      amountMinor,
      currency: 'USD',
      actorId: payer.id,
    },
  });
}

let numbered = 0;

/** A document about an entry that is told by its id alone. */
export async function buildDocument(
  program: { id: string },
  payer: { id: string; name: string },
  at = new Date('2026-06-01T12:00:00Z'),
) {
  const row = await prisma.billingDocument.create({
    data: {
      id: uuid(),
      programId: program.id,
      payerId: payer.id,
      kind: 'invoice',
      number: 100_000 + (numbered += 1),
      entryId: uuid(),
      facts: aFacts({ payerName: payer.name }),
      at,
    },
  });
  return { ...row, id: row.id as DocumentId };
}

/** A way to the card page that the payer has begun for a lesson. */
export async function buildCardPayment(
  lesson: { id: string; programId: string },
  payer: { id: string },
  overrides: Overrides<Prisma.CardPaymentUncheckedCreateInput> = {},
) {
  const row = await prisma.cardPayment.create({
    data: {
      ...{ id: uuid(), programId: lesson.programId, lessonId: lesson.id, payerId: payer.id },
      ...{ amountMinor: 4500, currency: 'USD', createdById: payer.id, createdAt: new Date() },
      ...overrides,
    },
  });
  return { ...row, id: row.id as CardPaymentId };
}
