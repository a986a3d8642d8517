import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { readLesson } from '@/lib/data/lessons.read';
import { listOwed } from '@/lib/data/balances.read';
import { listLedger } from '@/lib/data/ledger.read';
import { LEDGER_REFUSALS } from '@/lib/domain/billing/entry-refusals';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { LedgerEntryId, LessonId } from '@/lib/domain/shared/ids';
import { recordEntry, type RecordedKind } from '@/lib/workflows/record-entry';
import { updateProgram } from '@/lib/workflows/update-program';
import { buildLead, buildProgram } from '../../support/build';
import { viewerOf } from '../../support/viewers';
import { academy, auditOf, unfoldedLessons } from '../lessons/academy';

const entry = (lessonId: LessonId, kind: RecordedKind, amountMinor: number, reason = 'As agreed') => ({
  id: uuid() as LedgerEntryId,
  lessonId,
  kind,
  amountMinor,
  reason,
});

test('payment, refund and waiver by coach and lead are shown to all and audited without words', async () => {
  const { people, as, ports, send } = await academy();
  const { lessonId } = await send();
  await recordEntry(ports, as.coach, entry(lessonId, 'payment', 4000, 'Cash at the cage'));
  expect((await listOwed(as.lead)).rows.map((row) => row.owedMinor)).toEqual([500]);
  await recordEntry(ports, as.lead, entry(lessonId, 'waiver', 500));
  await recordEntry(ports, as.lead, entry(lessonId, 'refund', 1000));
  expect((await readLesson(as.player, lessonId))?.account).toEqual({
    chargedMinor: 4500,
    receivedMinor: 3000,
    waivedMinor: 500,
    refundedMinor: 1000,
    owedMinor: 0,
    status: 'paid',
  });
  expect(await listOwed(as.lead)).toEqual({ rows: [], next: null });
  const lines = await listLedger(as.player, lessonId);
  expect(lines.map((line) => [line.kind, line.by?.name])).toEqual([
    ['charge', people.player.name],
    ['payment', 'Cole Coach'],
    ['waiver', 'Lena Lead'],
    ['refund', 'Lena Lead'],
  ]);
  expect((await auditOf(lessonId)).slice(2)).toEqual(['ledger.payment', 'ledger.waiver', 'ledger.refund']);
  const audit = await prisma.auditEntry.findMany({ where: { subject: `lesson:${lessonId}` } });
  expect(JSON.stringify(audit)).not.toContain('Cash at the cage');
});

test('the same entry sent again, and at the same moment, is recorded once', async () => {
  const { as, ports, send } = await academy();
  const [{ lessonId }, other] = [await send(), await send()];
  const payment = entry(lessonId, 'payment', 1000);
  await Promise.all([1, 2, 3].map(() => recordEntry(ports, as.lead, payment)));
  await recordEntry(ports, as.coach, payment);
  expect((await listLedger(as.lead, lessonId)).map((line) => line.amountMinor)).toEqual([4500, 1000]);
  expect((await auditOf(lessonId)).filter((action) => action === 'ledger.payment')).toHaveLength(1);
  await expect(recordEntry(ports, as.lead, { ...payment, lessonId: other.lessonId })).rejects.toMatchObject({
    fault: 'not-found',
  });
});

test('two windows that record the whole payment at once: exactly one wins, the other is told why', async () => {
  const { as, ports, send } = await academy();
  const { lessonId } = await send();
  const outcomes = await Promise.allSettled(
    [as.coach, as.lead, as.coach2].map((viewer) =>
      recordEntry(ports, viewer, entry(lessonId, 'payment', 4500)),
    ),
  );
  expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(1);
  for (const outcome of outcomes) {
    if (outcome.status === 'rejected') {
      expect(outcome.reason).toMatchObject({
        fault: 'invalid',
        forPeople: LEDGER_REFUSALS['more-than-owed'],
      });
    }
  }
  expect((await readLesson(as.lead, lessonId))?.account).toMatchObject({ owedMinor: 0, receivedMinor: 4500 });
});

describe('refused, and nothing recorded', () => {
  test.each<[string, RecordedKind, number, string, keyof typeof LEDGER_REFUSALS]>([
    ['more than owed', 'payment', 4501, '', 'more-than-owed'],
    ['nothing', 'payment', 0, '', 'not-positive'],
    ['half a cent', 'payment', 0.5, '', 'not-whole'],
    ['a waiver without a reason', 'waiver', 4500, ' ', 'reason-missing'],
    ['a refund of what never came', 'refund', 1, 'Rain', 'more-than-received'],
    ['more than a column holds', 'correction', 3_000_000_000, 'Typing', 'too-much'],
  ])('%s', async (_what, kind, amountMinor, reason, refusal) => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    await expect(
      recordEntry(ports, as.lead, entry(lessonId, kind, amountMinor, reason)),
    ).rejects.toMatchObject({ fault: 'invalid', forPeople: LEDGER_REFUSALS[refusal], detail: { refusal } });
    expect(await listLedger(as.lead, lessonId)).toHaveLength(1);
    expect((await auditOf(lessonId)).at(-1)).toBe('lesson.submitted');
  });

  test('by the player’s side and by another program’s lead: as if there were no such lesson', async () => {
    const { as, ports, send } = await academy();
    const { lessonId } = await send();
    const far = await buildProgram();
    const viewers: Viewer[] = [as.player, as.guardian, await viewerOf(await buildLead(far), far)];
    const absent = await recordEntry(ports, as.lead, entry(uuid() as LessonId, 'payment', 1)).catch((e) => e);
    for (const viewer of viewers) {
      const refusal = await recordEntry(ports, viewer, entry(lessonId, 'payment', 1)).catch((e) => e);
      expect([refusal.fault, refusal.forPeople]).toEqual([absent.fault, absent.forPeople]);
    }
    expect(await listLedger(as.lead, lessonId)).toHaveLength(1);
  });
});

describe('price and promise', () => {
  const settings = {
    name: 'Maple',
    promiseHours: 24,
    howToPay: 'Cash',
    priceLabel: 'New',
    amountMinor: 9900,
  };

  test('are copied when a lesson is sent: a later change of the program touches no sent lesson', async () => {
    const { as, ports, send } = await academy();
    const old = await send();
    const before = await readLesson(as.player, old.lessonId);
    await updateProgram(ports, as.lead, settings);
    const after = await readLesson(as.player, old.lessonId);
    expect(after).toEqual({ ...before, program: after?.program });
    expect(after?.price?.amountMinor).toBe(4500);
    const next = await send();
    expect(await readLesson(as.player, next.lessonId)).toMatchObject({
      price: { label: 'New', amountMinor: 9900 },
      promisedAt: new Date(ports.clock.now().getTime() + 24 * 3_600_000),
      account: { owedMinor: 9900 },
    });
  });

  test('a lesson that costs nothing carries no charge', async () => {
    const { as, ports, send } = await academy();
    await updateProgram(ports, as.lead, { ...settings, amountMinor: 0 });
    const { lessonId } = await send();
    expect(await readLesson(as.player, lessonId)).toMatchObject({ account: { status: 'no_charge' } });
    expect(await listLedger(as.player, lessonId)).toEqual([]);
  });

  test.each([
    ['a price below zero', { amountMinor: -1 }],
    ['half a cent', { amountMinor: 0.5 }],
    ['more than a column holds', { amountMinor: 3_000_000_000 }],
    ['a promise of no hours', { promiseHours: 0 }],
    ['half an hour', { promiseHours: 0.5 }],
    ['a year', { promiseHours: 8760 }],
    ['no name', { name: ' ' }],
  ])('%s is refused and changes nothing', async (_what, over) => {
    const { program, as, ports } = await academy();
    await expect(updateProgram(ports, as.lead, { ...settings, ...over })).rejects.toMatchObject({
      fault: 'invalid',
    });
    expect((await prisma.program.findUniqueOrThrow({ where: { id: program.id } })).promiseHours).toBe(48);
  });

  test('a promise that the working hours stretch over months is refused', async () => {
    const { program, as, ports } = await academy();
    // One hour a week.
    const hours = { version: 1, week: [[{ from: 600, to: 660 }], [], [], [], [], [], []], daysOff: [] };
    await prisma.program.update({ where: { id: program.id }, data: { hours } });
    await expect(updateProgram(ports, as.lead, { ...settings, promiseHours: 24 })).rejects.toMatchObject({
      fault: 'invalid',
      forPeople: expect.stringContaining('Nothing was changed') as string,
    });
    await updateProgram(ports, as.lead, { ...settings, promiseHours: 4 });
    expect((await prisma.program.findUniqueOrThrow({ where: { id: program.id } })).promiseHours).toBe(4);
  });

  test('are set by a lead alone', async () => {
    const { as, ports } = await academy();
    for (const viewer of [as.coach, as.player, as.guardian]) {
      await expect(updateProgram(ports, viewer, settings)).rejects.toMatchObject({ fault: 'not-found' });
    }
    expect(await unfoldedLessons()).toEqual([]);
  });
});
