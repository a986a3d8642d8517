import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { listFamilyOpen, listToGiveBack } from '@/lib/data/balances.read';
import { prisma } from '@/lib/data/client';
import { listLedger } from '@/lib/data/ledger.read';
import { readLesson } from '@/lib/data/lessons.read';
import type { CardPaymentId, LedgerEntryId } from '@/lib/domain/shared/ids';
import { recordEntry } from '@/lib/workflows/record-entry';
import { refundPayer } from '@/lib/workflows/refund-payer';
import { settleCardPayment } from '@/lib/workflows/settle-card-payment';
import { startCardPayment } from '@/lib/workflows/start-card-payment';
import { fakeCards } from '../../support/fake-cards';
import { academy } from '../lessons/academy';

async function atTheCardPage() {
  const world = await academy();
  const { lessonId } = await world.send();
  const { cards, opened, message } = fakeCards();
  const id = uuid() as CardPaymentId;
  const subject = `lesson:${lessonId}`;
  const ports = { ...world.ports, cards, backTo: 'https://lessons.example.org/billing' };
  const start = () => startCardPayment(ports, world.as.player, { id, subject });
  const told = (said: ReturnType<typeof message>) => settleCardPayment(ports, asSystem('cards'), said);
  await start();
  return { ...world, lessonId, subject, id, ports, opened, message, start, told };
}

test('what is owed is paid once, with a receipt and a mail, whatever is told again', async () => {
  const { lessonId, as, id, opened, message, told, start, ports } = await atTheCardPage();
  expect(opened).toMatchObject([{ id, amountMinor: 4500, currency: 'USD', label: 'One lesson, number 1' }]);
  const paid = message({ kind: 'paid', paymentId: id });
  expect(await told(paid)).toBe('settled');
  // The same message, another one about the same payment, and a late one that says the opposite.
  expect(await told(paid)).toBe('ignored');
  expect(await told(message({ kind: 'paid', paymentId: id }))).toBe('ignored');
  expect(await told(message({ kind: 'expired', paymentId: id }))).toBe('ignored');
  expect((await readLesson(as.player, lessonId))?.account).toMatchObject({ status: 'paid', owedMinor: 0 });
  const lines = await listLedger(as.player, lessonId);
  expect(lines.map((line) => [line.kind, line.method])).toEqual([
    ['charge', null],
    ['payment', 'card'],
  ]);
  const receipts = await prisma.billingDocument.findMany({ where: { entryId: id } });
  expect(receipts).toMatchObject([{ kind: 'receipt', number: 1 }]);
  const mails = await prisma.outboxMail.findMany({ where: { kind: 'document-ready' } });
  expect(JSON.stringify(mails)).not.toContain('Wren');
  // Pressed again: the same payment, asked for at the service under the same id.
  await start();
  expect(opened).toHaveLength(2);
  expect(ports.jobs.at(-1)).toBe('drain');
});

test('a message that comes three times at once is settled once', async () => {
  const { id, message, told } = await atTheCardPage();
  const paid = message({ kind: 'paid', paymentId: id });
  const outcomes = await Promise.all([
    told(paid),
    told(paid),
    told(message({ kind: 'paid', paymentId: id })),
  ]);
  expect(outcomes.filter((outcome) => outcome === 'settled')).toHaveLength(1);
  expect(await prisma.ledgerEntry.count({ where: { id } })).toBe(1);
});

test('money that came after the page had ended counts', async () => {
  const { id, message, told, as, lessonId } = await atTheCardPage();
  await told(message({ kind: 'expired', paymentId: id }));
  expect(await told(message({ kind: 'paid', paymentId: id }))).toBe('settled');
  expect((await readLesson(as.player, lessonId))?.account.status).toBe('paid');
});

test('money for what was paid in cash meanwhile is the payer’s, and is given back', async () => {
  const { id, message, told, as, lessonId, ports, people } = await atTheCardPage();
  const cash = { id: uuid() as LedgerEntryId, kind: 'payment' as const, amountMinor: 4000, reason: 'Cash' };
  await recordEntry(ports, as.lead, { ...cash, lessonId });
  await told(message({ kind: 'paid', paymentId: id }));
  expect((await readLesson(as.player, lessonId))?.account).toMatchObject({
    owedMinor: 0,
    receivedMinor: 4500,
  });
  const [mine] = (await listFamilyOpen(as.player)).filter((line) => !line.lesson && !line.pack);
  expect(mine).toMatchObject({ toGiveBackMinor: 4000, owedMinor: 0 });
  expect((await listToGiveBack(as.lead)).map((line) => line.toGiveBackMinor)).toEqual([4000]);
  const refund = { id: uuid() as LedgerEntryId, payerId: people.player.id, reason: 'Paid twice' };
  await expect(refundPayer(ports, as.lead, { ...refund, amountMinor: 4001 })).rejects.toMatchObject({
    fault: 'invalid',
  });
  await refundPayer(ports, as.lead, { ...refund, amountMinor: 4000, method: 'transfer' });
  await refundPayer(ports, as.lead, { ...refund, amountMinor: 4000, method: 'transfer' });
  expect(await listToGiveBack(as.lead)).toEqual([]);
});

describe('refused or ignored', () => {
  test('a message that nobody signed', async () => {
    const { id, message, told } = await atTheCardPage();
    const paid = message({ kind: 'paid', paymentId: id });
    await expect(told({ ...paid, signature: 'forged' })).rejects.toMatchObject({ fault: 'invalid' });
    expect(await prisma.ledgerEntry.count({ where: { id } })).toBe(0);
  });

  test.each(['somebody else’s', '00000000-0000-4000-8000-000000000000'])(
    'a payment that is not ours: %s',
    async (paymentId) => {
      const { message, told } = await atTheCardPage();
      expect(await told(message({ kind: 'paid', paymentId }))).toBe('ignored');
    },
  );

  test('another currency: nothing is recorded, and the message is not taken as dealt with', async () => {
    const { id, message, told } = await atTheCardPage();
    const odd = message({ kind: 'paid', paymentId: id, currency: 'EUR' });
    await expect(told(odd)).rejects.toMatchObject({ fault: 'conflict' });
    await expect(told(odd)).rejects.toMatchObject({ fault: 'conflict' });
    expect(await prisma.ledgerEntry.count({ where: { id } })).toBe(0);
  });

  test('paying what is not owed any more, or is another family’s', async () => {
    const { id, message, told, as, ports, subject } = await atTheCardPage();
    await expect(
      startCardPayment(ports, as.coach, { id: uuid() as CardPaymentId, subject }),
    ).rejects.toMatchObject({ fault: 'not-found' });
    await told(message({ kind: 'paid', paymentId: id }));
    await expect(
      startCardPayment(ports, as.player, { id: uuid() as CardPaymentId, subject }),
    ).rejects.toMatchObject({ fault: 'wrong-state' });
  });
});
