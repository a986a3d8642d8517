import * as fc from 'fast-check';
import { v7 as uuid } from 'uuid';
import { expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { accountOf, type LedgerFact } from '@/lib/domain/billing/ledger';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { LedgerEntryId, LessonId, PackId, PriceId } from '@/lib/domain/shared/ids';
import { giveBackPackLesson } from '@/lib/workflows/give-back-pack-lesson';
import { recordEntry } from '@/lib/workflows/record-entry';
import { recordPackEntry } from '@/lib/workflows/record-pack-entry';
import { sellPack } from '@/lib/workflows/sell-pack';
import { settleCardPayment } from '@/lib/workflows/settle-card-payment';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { withdrawLesson } from '@/lib/workflows/withdraw-lesson';
import { asSystem } from '@/lib/auth/system';
import { buildCardPayment, buildPackPrice } from '../../support/build-money';
import { fakeCards } from '../../support/fake-cards';
import { academy, fullDraft } from '../lessons/academy';

// Any interleaving of commands by several people at once, on the real database, keeps what must hold of money. The
// invariants are read back by sums in SQL and by the fold of the domain, and both are held against the kept balances.

const LESSONS = 3;
const PACK_LESSONS = 2;

const command = fc.oneof(
  fc.record({ what: fc.constant('send' as const), lesson: fc.nat(LESSONS - 1), fromPack: fc.boolean() }),
  fc.record({ what: fc.constant('withdraw' as const), lesson: fc.nat(LESSONS - 1) }),
  fc.record({
    what: fc.constant('record' as const),
    lesson: fc.nat(LESSONS - 1),
    kind: fc.constantFrom('payment' as const, 'waiver' as const, 'refund' as const, 'correction' as const),
    amountMinor: fc.constantFrom(4500, 2250, 1, -2250, -4500),
    times: fc.integer({ min: 1, max: 2 }),
  }),
  fc.record({ what: fc.constant('give-back' as const), lesson: fc.nat(LESSONS - 1) }),
  fc.record({
    what: fc.constant('card' as const),
    lesson: fc.nat(LESSONS - 1),
    times: fc.integer({ min: 1, max: 3 }),
  }),
  fc.record({ what: fc.constant('pay-pack' as const), amountMinor: fc.constantFrom(8000, 4000) }),
);
type Command = typeof command extends fc.Arbitrary<infer T> ? T : never;

async function ledgerWorld() {
  const world = await academy();
  const { program, as, ports, people } = world;
  const price = await buildPackPrice(program, { lessons: PACK_LESSONS, amountMinor: 8000 });
  const packId = uuid() as PackId;
  await sellPack(ports, as.lead, { id: packId, payerId: people.player.id, priceId: price.id as PriceId });
  const lessons = Array.from({ length: LESSONS }, () => uuid() as LessonId);
  for (const lessonId of lessons) {
    await startLesson(as.player, { lessonId, playerId: people.player.id, followsId: null });
  }
  return { ...world, packId, lessons };
}
type World = Awaited<ReturnType<typeof ledgerWorld>>;

/** What a command may answer besides doing it: a refusal in words. Everything else is a defect. */
const orRefused = async (work: () => Promise<unknown>): Promise<void> => {
  try {
    await work();
  } catch (error) {
    if (!(error instanceof CagepostError)) throw error;
    expect(['invalid', 'not-found', 'wrong-state', 'conflict']).toContain(error.fault);
  }
};

async function run(world: World, one: Command): Promise<void> {
  const { as, ports, packId, lessons, people } = world;
  const lessonId = 'lesson' in one ? lessons[one.lesson]! : lessons[0]!;
  switch (one.what) {
    case 'send':
      return orRefused(() =>
        submitLesson(ports, as.player, {
          lessonId,
          draft: fullDraft(),
          packId: one.fromPack ? packId : null,
        }),
      );
    case 'withdraw':
      return orRefused(() => withdrawLesson(ports, as.player, { lessonId, reason: '' }));
    case 'record': {
      const { kind, amountMinor, times } = one;
      const entry = { id: uuid() as LedgerEntryId, lessonId, kind, amountMinor, reason: 'As agreed' };
      // The same entry from two tabs at once.
      const tabs = Array.from({ length: times }, (_, tab) => (tab === 0 ? as.lead : as.coach));
      await Promise.all(tabs.map((viewer) => orRefused(() => recordEntry(ports, viewer, entry))));
      return;
    }
    case 'give-back':
      return orRefused(() =>
        giveBackPackLesson(ports, as.lead, { id: uuid() as LedgerEntryId, lessonId, reason: 'Rained out' }),
      );
    case 'card': {
      if ((await prisma.balance.count({ where: { lessonId } })) === 0) return;
      const lesson = await prisma.lesson.findUniqueOrThrow({ where: { id: lessonId } });
      const payment = await buildCardPayment(lesson, people.player);
      const { cards, message } = fakeCards();
      const told = message({ kind: 'paid', paymentId: payment.id, amountMinor: 4500 });
      // A retried webhook, also while the first is still at work.
      await Promise.all(
        Array.from({ length: one.times }, () =>
          settleCardPayment({ ...ports, cards }, asSystem('cards'), told),
        ),
      );
      expect(await prisma.ledgerEntry.count({ where: { id: payment.id } })).toBeLessThanOrEqual(1);
      return;
    }
    case 'pay-pack':
      return orRefused(() =>
        recordPackEntry(ports, as.lead, {
          id: uuid() as LedgerEntryId,
          packId,
          kind: 'payment',
          amountMinor: one.amountMinor,
          reason: '',
        }),
      );
  }
}

async function holds({ program, packId }: World): Promise<void> {
  const entries = await prisma.ledgerEntry.findMany({ where: { programId: program.id } });
  const balances = await prisma.balance.findMany({ where: { programId: program.id } });
  const factsOf = (subject: string): LedgerFact[] =>
    entries.filter((entry) => {
      if (entry.lessonId) return subject === `lesson:${entry.lessonId}`;
      return entry.packId ? subject === `pack:${entry.packId}` : subject.startsWith('payer:');
    });
  for (const balance of balances) {
    const account = accountOf(factsOf(balance.subject));
    expect({
      chargedMinor: balance.chargedMinor,
      receivedMinor: balance.paidMinor - balance.refundedMinor,
      waivedMinor: balance.waivedMinor,
      refundedMinor: balance.refundedMinor,
      owedMinor: balance.owedMinor,
    }).toEqual({
      chargedMinor: account.chargedMinor,
      receivedMinor: account.receivedMinor,
      waivedMinor: account.waivedMinor,
      refundedMinor: account.refundedMinor,
      owedMinor: account.owedMinor,
    });
    if (balance.lessonId) {
      expect(balance.owedMinor).toBeGreaterThanOrEqual(0);
      expect(factsOf(balance.subject).filter((fact) => fact.kind === 'charge')).toHaveLength(1);
    }
  }
  // The payer's whole account is the sum of its parts.
  const whole = accountOf(entries);
  expect(whole.owedMinor).toBe(balances.reduce((sum, balance) => sum + balance.owedMinor, 0));
  const pack = await prisma.pack.findUniqueOrThrow({ where: { id: packId } });
  const uses = entries.filter((entry) => entry.kind === 'pack_use').length;
  const back = entries.filter((entry) => entry.takesBackId !== null).length;
  expect(pack.usedLessons).toBe(uses - back);
  expect(pack.usedLessons).toBeGreaterThanOrEqual(0);
  expect(pack.usedLessons).toBeLessThanOrEqual(PACK_LESSONS);
  // Numbers of documents have no holes.
  for (const kind of ['invoice', 'receipt', 'credit_note'] as const) {
    const documents = await prisma.billingDocument.findMany({
      where: { programId: program.id, kind },
      orderBy: { number: 'asc' },
      select: { number: true },
    });
    expect(documents.map((one) => one.number)).toEqual(documents.map((_, index) => index + 1));
  }
  const moved = entries.filter((entry) => entry.kind === 'payment').length;
  expect(await prisma.billingDocument.count({ where: { programId: program.id, kind: 'receipt' } })).toBe(
    moved,
  );
}

test('whatever is done at once, balances equal the fold, packs never go below zero, and numbers have no holes', async () => {
  await fc.assert(
    fc.asyncProperty(
      fc.array(fc.array(command, { minLength: 1, maxLength: 4 }), { maxLength: 5 }),
      async (rounds) => {
        const world = await ledgerWorld();
        for (const round of rounds) await Promise.all(round.map((one) => run(world, one)));
        await holds(world);
      },
    ),
    { numRuns: 40, endOnFailure: true },
  );
}, 300_000);
