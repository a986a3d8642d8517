import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { listFamilyOpen, listOwed, listToGiveBack } from '@/lib/data/balances.read';
import { prisma } from '@/lib/data/client';
import { listLedger } from '@/lib/data/ledger.read';
import { readLesson, readSendSetting } from '@/lib/data/lessons.read';
import { listPacks } from '@/lib/data/packs.read';
import { listOldPrices, listPrices } from '@/lib/data/prices.read';
import { PACK_REFUSALS } from '@/lib/domain/billing/packs';
import type { LedgerEntryId, LessonId, PackId, PersonId, PriceId } from '@/lib/domain/shared/ids';
import { giveBackPackLesson } from '@/lib/workflows/give-back-pack-lesson';
import { recordEntry } from '@/lib/workflows/record-entry';
import { recordPackEntry } from '@/lib/workflows/record-pack-entry';
import { savePrice } from '@/lib/workflows/save-price';
import { retirePrice } from '@/lib/workflows/retire-price';
import { sellPack } from '@/lib/workflows/sell-pack';
import { setMoneyPolicy } from '@/lib/workflows/set-money-policy';
import { startLesson } from '@/lib/workflows/start-lesson';
import { submitLesson } from '@/lib/workflows/submit-lesson';
import { takeLesson } from '@/lib/workflows/take-lesson';
import { withdrawLesson } from '@/lib/workflows/withdraw-lesson';
import { buildGuardian, buildPlayer } from '../../support/build';
import { buildPackPrice } from '../../support/build-money';
import { viewerOf } from '../../support/viewers';
import { academy, fullDraft } from '../lessons/academy';

const DAY = 86_400_000;

/** An academy with a minor, whose guardian has bought a pack of two. */
async function family() {
  const world = await academy({ age: 15 });
  const { program, as, ports, people } = world;
  const price = await buildPackPrice(program, { lessons: 2, amountMinor: 8000, validDays: 30 });
  const packId = uuid() as PackId;
  const payerId = as.guardian.personId;
  await sellPack(ports, as.lead, { id: packId, payerId, priceId: price.id as PriceId });
  const sendAs = async (
    viewer = as.player,
    pack: PackId | null = packId,
    playerId: PersonId = people.player.id,
  ) => {
    const lessonId = uuid() as LessonId;
    await startLesson(viewer, { lessonId, playerId, followsId: null });
    await submitLesson(ports, viewer, { lessonId, draft: fullDraft(), packId: pack });
    return lessonId;
  };
  const left = async () => {
    const [pack] = (await listPacks(as.guardian, 'family')).rows;
    return pack!.lessons - pack!.usedLessons;
  };
  return { ...world, price, packId, sendAs, left };
}

test('a pack is owed by its buyer, with an invoice, and pays for the lessons of the whole family', async () => {
  const { as, sendAs, left, ports, packId, people } = await family();
  expect((await listPacks(as.guardian, 'family')).rows).toMatchObject([
    { lessons: 2, usedLessons: 0, account: { status: 'due', owedMinor: 8000 } },
  ]);
  const setting = await readSendSetting(as.player, people.player.id, ports.clock.now());
  expect(setting?.packs).toMatchObject([{ id: packId, lessons: 2, usedLessons: 0 }]);
  const lessonId = await sendAs(as.player);
  expect(await readLesson(as.player, lessonId)).toMatchObject({
    account: { status: 'from_pack', owedMinor: 0 },
  });
  await sendAs(as.guardian);
  expect(await left()).toBe(0);
  expect((await readSendSetting(as.player, people.player.id, ports.clock.now()))?.packs).toEqual([]);
  await recordPackEntry(ports, as.lead, {
    ...{
      id: uuid() as LedgerEntryId,
      packId,
      kind: 'payment',
      amountMinor: 8000,
      reason: '',
      method: 'cash',
    },
  });
  expect((await listPacks(as.guardian, 'family')).rows).toMatchObject([{ account: { status: 'paid' } }]);
  const documents = await prisma.billingDocument.findMany({ where: { packId }, orderBy: { at: 'asc' } });
  expect(documents.map((one) => [one.kind, one.number])).toEqual([
    ['invoice', 1],
    ['receipt', 1],
  ]);
});

test('selling the same pack again, and at once, sells it once', async () => {
  const { as, ports, price, program } = await family();
  const id = uuid() as PackId;
  const sale = { id, payerId: as.guardian.personId, priceId: price.id as PriceId };
  await Promise.all([1, 2, 3].map(() => sellPack(ports, as.lead, sale)));
  expect(await prisma.ledgerEntry.count({ where: { packId: id } })).toBe(1);
  expect(await prisma.billingDocument.count({ where: { programId: program.id, kind: 'invoice' } })).toBe(2);
});

describe('a pack that cannot pay sends nothing and says why', () => {
  test('used up, by two lessons at once', async () => {
    const { sendAs, left, program } = await family();
    const outcomes = await Promise.allSettled([sendAs(), sendAs(), sendAs(), sendAs()]);
    expect(outcomes.filter((outcome) => outcome.status === 'fulfilled')).toHaveLength(2);
    for (const outcome of outcomes) {
      if (outcome.status === 'rejected') {
        expect(outcome.reason).toMatchObject({ fault: 'invalid', forPeople: PACK_REFUSALS['pack-empty'] });
      }
    }
    expect(await left()).toBe(0);
    expect(await prisma.lesson.count({ where: { programId: program.id, state: 'submitted' } })).toBe(2);
  });

  test('past its day', async () => {
    const { sendAs, ports } = await family();
    ports.later(31 * DAY);
    await expect(sendAs()).rejects.toMatchObject({ forPeople: PACK_REFUSALS['pack-over'] });
  });

  test('of another family, or one that nobody has', async () => {
    const { program, sendAs, packId } = await family();
    const stranger = await buildPlayer(program);
    await buildGuardian(program, [stranger]);
    const viewer = await viewerOf(stranger, program);
    for (const pack of [packId, uuid() as PackId]) {
      await expect(sendAs(viewer, pack, stranger.id)).rejects.toMatchObject({
        forPeople: PACK_REFUSALS['pack-not-family'],
      });
    }
  });
});

describe('withdrawn', () => {
  test('before a coach took it: the pack lesson is given back', async () => {
    const { as, sendAs, left, ports } = await family();
    const lessonId = await sendAs();
    await withdrawLesson(ports, as.guardian, { lessonId, reason: '' });
    expect(await left()).toBe(2);
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      account: { status: 'no_charge', owedMinor: 0 },
    });
  });

  test('before, and paid: all of it is to be given back, until it was', async () => {
    const { as, sendAs, ports } = await family();
    const lessonId = await sendAs(as.guardian, null);
    const entry = { lessonId, reason: 'Transfer' };
    await recordEntry(ports, as.lead, {
      ...entry,
      id: uuid() as LedgerEntryId,
      kind: 'payment',
      amountMinor: 2000,
    });
    await withdrawLesson(ports, as.guardian, { lessonId, reason: '' });
    expect(await listToGiveBack(as.lead)).toMatchObject([{ toGiveBackMinor: 2000, owedMinor: 0 }]);
    await recordEntry(ports, as.lead, {
      ...entry,
      id: uuid() as LedgerEntryId,
      kind: 'refund',
      amountMinor: 2000,
    });
    expect(await listToGiveBack(as.lead)).toEqual([]);
    expect(await readLesson(as.player, lessonId)).toMatchObject({ account: { status: 'refunded' } });
  });

  test('after, by what was agreed when it was sent, not by what is agreed now', async () => {
    const { as, sendAs, ports } = await family();
    await setMoneyPolicy(as.lead, { dueDays: 7, keptPercent: 40, terms: '' });
    const lessonId = await sendAs(as.guardian, null);
    await setMoneyPolicy(as.lead, { dueDays: 7, keptPercent: 100, terms: '' });
    await takeLesson(ports, as.coach, lessonId);
    await withdrawLesson(ports, as.guardian, { lessonId, reason: '' });
    expect(await readLesson(as.player, lessonId)).toMatchObject({
      account: { owedMinor: 1800, waivedMinor: 2700 },
    });
    const bill = (await listFamilyOpen(as.guardian)).find((line) => line.lesson?.id === lessonId);
    expect(bill?.dueAt?.getTime()).toBe(ports.clock.now().getTime() + 7 * DAY);
  });
});

test('a coach gives a lesson back to its pack, once, with a reason', async () => {
  const { as, sendAs, left, ports } = await family();
  const lessonId = await sendAs();
  const give = (reason: string) =>
    giveBackPackLesson(ports, as.coach, { id: uuid() as LedgerEntryId, lessonId, reason });
  await expect(give(' ')).rejects.toMatchObject({ fault: 'invalid' });
  await give('The clip was too dark to judge.');
  await expect(give('Again')).rejects.toMatchObject({ fault: 'invalid' });
  expect(await left()).toBe(2);
  expect((await listLedger(as.player, lessonId)).at(-1)).toMatchObject({
    kind: 'correction',
    amountMinor: -4500,
  });
  const unpacked = await sendAs(as.guardian, null);
  await expect(
    giveBackPackLesson(ports, as.coach, { id: uuid() as LedgerEntryId, lessonId: unpacked, reason: 'Rain' }),
  ).rejects.toMatchObject({ fault: 'invalid' });
});

test('what was returned stays readable, however much is owed for however long', async () => {
  const { as, ports, send, giveBack } = await academy();
  const { lessonId } = await send();
  await giveBack(lessonId);
  ports.later(400 * DAY);
  expect(await listOwed(as.lead)).toMatchObject({ rows: [{ owedMinor: 4500, lesson: { id: lessonId } }] });
  const lesson = await readLesson(as.player, lessonId);
  expect(lesson?.account.status).toBe('due');
  expect(lesson?.returned?.sheet.fixFirst?.sentence).toBeTruthy();
});

describe('the price list', () => {
  const line = { kind: 'pack', label: 'Ten', lessons: 10, validDays: 365, amountMinor: 30000 } as const;

  test('keeps every version; what was sold keeps its own', async () => {
    const { as, ports } = await family();
    const seriesId = uuid();
    await savePrice(ports, as.lead, { ...line, seriesId });
    await savePrice(ports, as.lead, { ...line, seriesId });
    await savePrice(ports, as.lead, { ...line, seriesId, amountMinor: 32000 });
    expect((await listPrices(as.player)).filter((one) => one.seriesId === seriesId)).toMatchObject([
      { number: 2, amountMinor: 32000 },
    ]);
    expect(await listOldPrices(as.lead)).toMatchObject([{ number: 1, amountMinor: 30000 }]);
    await retirePrice(ports, as.lead, seriesId);
    expect((await listPrices(as.player)).some((one) => one.seriesId === seriesId)).toBe(false);
    await savePrice(ports, as.lead, { ...line, seriesId });
    expect((await listPrices(as.player)).find((one) => one.seriesId === seriesId)?.number).toBe(3);
  });

  test('two leads at once make versions one after the other', async () => {
    const { as, ports } = await family();
    const seriesId = uuid();
    const amounts = [1000, 2000, 3000, 4000];
    await Promise.all(
      amounts.map((amountMinor) => savePrice(ports, as.lead, { ...line, seriesId, amountMinor })),
    );
    expect((await listPrices(as.lead)).filter((one) => one.seriesId === seriesId)).toMatchObject([
      { number: 4 },
    ]);
  });

  test('a pack that has changed or gone is not sold under its old price', async () => {
    const { as, ports, price } = await family();
    await retirePrice(ports, as.lead, price.seriesId);
    const sale = { id: uuid() as PackId, payerId: as.guardian.personId, priceId: price.id as PriceId };
    await expect(sellPack(ports, as.lead, sale)).rejects.toMatchObject({ fault: 'conflict' });
  });

  test('a minor buys no pack', async () => {
    const { as, ports, price, people } = await family();
    const sale = { id: uuid() as PackId, payerId: people.player.id, priceId: price.id as PriceId };
    await expect(sellPack(ports, as.lead, sale)).rejects.toMatchObject({ fault: 'safeguarding' });
  });

  test('is the lead’s alone, as are packs and what is agreed', async () => {
    const { as, ports, price, packId } = await family();
    const sale = { id: uuid() as PackId, payerId: as.guardian.personId, priceId: price.id as PriceId };
    const entry = { id: uuid() as LedgerEntryId, kind: 'payment' as const, amountMinor: 1, reason: '' };
    for (const viewer of [as.coach, as.player, as.guardian]) {
      for (const work of [
        sellPack(ports, viewer, sale),
        savePrice(ports, viewer, { ...line, seriesId: uuid() }),
        retirePrice(ports, viewer, price.seriesId),
        recordPackEntry(ports, viewer, { ...entry, packId }),
        setMoneyPolicy(viewer, { dueDays: 1, keptPercent: 1, terms: '' }),
      ]) {
        await expect(work).rejects.toMatchObject({ fault: 'not-found' });
      }
    }
    await expect(setMoneyPolicy(as.lead, { dueDays: 366, keptPercent: 1, terms: '' })).rejects.toMatchObject({
      fault: 'invalid',
    });
  });
});
