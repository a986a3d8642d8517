import { v7 as uuid } from 'uuid';
import { buildLedgerEntry, buildLesson } from '../../../support/build';
import { buildPack, buildPackPrice, buildPaidTooMuch } from '../../../support/build-money';
import { action, LEADS, STAFF, type OperationRow } from '../row';
import type { Target } from '../world';
import { returnedOf } from './lessons';

// Actions about money.

const file = 'action app/program/billing/actions.ts';
const entry = { amountMinor: 100, method: 'cash', reason: 'Paid twice' };

const lessonFromPack = async (t: Target) => {
  const pack = await buildPack(t.program, t.player);
  const lesson = await buildLesson(t.program, t.player, { state: 'withdrawn' });
  await buildLedgerEntry(lesson, t.lead);
  await buildLedgerEntry(lesson, t.lead, { kind: 'pack_use', packId: pack.id });
  return lesson;
};

export const MONEY_ROWS: Record<string, OperationRow> = {
  // No payment service here: it is said, whoever asks and for what, before anything is looked up.
  'action app/billing/actions.ts payByCardAction': action(
    'target',
    {},
    async (t) => ({ id: uuid(), subject: `lesson:${(await returnedOf(t)).id}` }),
    { refused: 'unsupported' },
  ),
  [`${file} recordPackEntryAction`]: action('target', LEADS, async (t) => ({
    ...{ id: uuid(), packId: (await buildPack(t.program, t.player)).id, kind: 'payment' },
    ...entry,
  })),
  [`${file} refundPayerAction`]: action('target', LEADS, async (t) => {
    await buildPaidTooMuch(t.program, t.player);
    return { id: uuid(), payerId: t.player.id, ...entry };
  }),
  [`${file} giveBackPackLessonAction`]: action('target', STAFF, async (t) => ({
    id: uuid(),
    lessonId: (await lessonFromPack(t)).id,
    reason: 'The coach was ill',
  })),
  // A minor buys nothing: the pack is their guardian's.
  [`${file} sellPackAction`]: action('target', LEADS, async (t) => {
    const payer = t.guardian ?? t.player;
    return { id: uuid(), payerId: payer.id, priceId: (await buildPackPrice(t.program)).id };
  }),
  [`${file} savePriceAction`]: action('self', LEADS, () => ({
    seriesId: uuid(),
    kind: 'pack',
    label: 'Three lessons',
    lessons: 3,
    validDays: 90,
    amountMinor: 9000,
  })),
  [`${file} retirePriceAction`]: action('program', LEADS, async (t) => ({
    seriesId: (await buildPackPrice(t.program)).seriesId,
  })),
  [`${file} setMoneyPolicyAction`]: action('self', LEADS, () => ({
    dueDays: 14,
    keptPercent: 100,
    terms: '',
  })),
};
