import { v7 as uuid } from 'uuid';
import { beforeAll, describe, expect, test } from 'vitest';
import { listOwed } from '@/lib/data/balances.read';
import { prisma } from '@/lib/data/client';
import type { Prisma } from '@/lib/data/generated/client';
import { buildLead, buildLedgerEntry, buildLesson, buildPlayer, buildProgram } from '../support/build';
import { buildDocument, buildPack } from '../support/build-money';
import { viewerOf } from '../support/viewers';

// What the database itself refuses about money, whatever the program above it does.

let world: Awaited<ReturnType<typeof buildMoney>>;
async function buildMoney() {
  const program = await buildProgram();
  const player = await buildPlayer(program);
  const pack = await buildPack(program, player, { lessons: 1 });
  return { program, player, pack };
}
beforeAll(async () => {
  world = await buildMoney();
});

const charged = async () => {
  const lesson = await buildLesson(world.program, world.player);
  await buildLedgerEntry(lesson, world.player);
  return lesson;
};
const add = (
  lesson: Awaited<ReturnType<typeof charged>>,
  over: Partial<Prisma.LedgerEntryUncheckedCreateInput>,
) => buildLedgerEntry(lesson, world.player, over);

describe('an entry is refused by the database', () => {
  test.each<[string, Partial<Prisma.LedgerEntryUncheckedCreateInput>]>([
    ['a second charge', {}],
    ['more paid than owed', { kind: 'payment', amountMinor: 4501 }],
    ['more waived than owed', { kind: 'waiver', amountMinor: 4501, reason: 'Rain' }],
    ['a refund of what never came', { kind: 'refund', amountMinor: 1, reason: 'Rain' }],
    ['a correction below nothing', { kind: 'correction', amountMinor: -4501, reason: 'Typing' }],
    ['nothing', { kind: 'payment', amountMinor: 0 }],
    ['below zero', { kind: 'payment', amountMinor: -1 }],
    ['a correction by nothing', { kind: 'correction', amountMinor: 0, reason: 'Typing' }],
    ['a waiver without a reason', { kind: 'waiver', amountMinor: 1, reason: ' ' }],
    ['another currency', { kind: 'payment', amountMinor: 1, currency: 'EUR' }],
    ['a pack use without a pack', { kind: 'pack_use', amountMinor: 4500 }],
    ['a pack sale on a lesson', { kind: 'pack_sale', amountMinor: 1 }],
    ['taking back without a pack', { kind: 'correction', amountMinor: -1, reason: 'x', takesBackId: uuid() }],
  ])('%s', async (_what, over) => {
    const lesson = await charged();
    await expect(add(lesson, over)).rejects.toThrow();
    expect(await prisma.ledgerEntry.count({ where: { lessonId: lesson.id } })).toBe(1);
  });

  test('another payer than the first', async () => {
    const lesson = await charged();
    const other = await buildPlayer(world.program);
    await expect(add(lesson, { kind: 'payment', amountMinor: 1, payerId: other.id })).rejects.toThrow(
      /payer/,
    );
  });
});

test('a pack of one pays for one lesson, is given back once, and not after its day', async () => {
  const { pack } = world;
  const [first, second] = [await charged(), await charged()];
  const use = { kind: 'pack_use' as const, packId: pack.id };
  const used = await add(first, use);
  await expect(add(second, use)).rejects.toThrow(/Pack_uses/);
  await expect(add(first, use)).rejects.toThrow();
  const back = {
    kind: 'correction' as const,
    packId: pack.id,
    amountMinor: -4500,
    reason: 'Rain',
    takesBackId: used.id,
  };
  await expect(add(second, back)).rejects.toThrow(/takes back/);
  await add(first, back);
  await expect(add(first, back)).rejects.toThrow();
  const late = { ...use, at: new Date(pack.validUntil.getTime() + 1) };
  await expect(add(second, late)).rejects.toThrow(/not valid/);
  await add(second, use);
  expect((await prisma.pack.findUniqueOrThrow({ where: { id: pack.id } })).usedLessons).toBe(1);
});

describe('the sums are kept by entries alone', () => {
  test.each([
    ['a balance', `UPDATE "Balance" SET "paidMinor" = "paidMinor" + 1, "owedMinor" = "owedMinor" - 1`],
    ['a removed balance', `DELETE FROM "Balance"`],
    ['the uses of a pack', `UPDATE "Pack" SET "usedLessons" = 0`],
  ])('%s set by hand is refused', async (_what, sql) => {
    await charged();
    await expect(prisma.$executeRawUnsafe(sql)).rejects.toThrow(/kept by the entries of the ledger/);
  });
});

test('no number of a document is given twice', async () => {
  const document = await buildDocument(world.program, world.player);
  await expect(
    prisma.billingDocument.create({
      data: { ...document, id: uuid(), entryId: uuid(), facts: document.facts as Prisma.InputJsonValue },
    }),
  ).rejects.toThrow();
});

test('what is owed comes page by page, by due day, none twice and none left out', async () => {
  const program = await buildProgram();
  const lead = await viewerOf(await buildLead(program), program);
  const player = await buildPlayer(program);
  const made: string[] = [];
  for (const days of [3, 1, 2, 1, null, 5, null]) {
    const lesson = await buildLesson(program, player);
    const dueAt = days === null ? null : new Date(Date.UTC(2026, 5, days));
    await buildLedgerEntry(lesson, player, { dueAt });
    made.push(`lesson:${lesson.id}`);
  }
  const seen: { subject: string; dueAt: Date | null }[] = [];
  let after: string | null = null;
  do {
    const page = await listOwed(lead, { after, take: 2 });
    seen.push(...page.rows);
    after = page.next;
  } while (after);
  expect(seen.map((one) => one.subject).sort()).toEqual(made.sort());
  expect(seen.map((one) => one.dueAt?.getUTCDate() ?? null)).toEqual([1, 1, 2, 3, 5, null, null]);
  expect((await listOwed(lead, { after: 'nonsense', take: 20 })).rows).toHaveLength(7);
});
