import { beforeEach, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { countOutbox } from '@/lib/data/outbox.system';
import { queueMail } from '@/lib/data/outbox.write';
import { transaction } from '@/lib/data/transaction';
import { drainOutbox } from '@/lib/workflows/run-outbox';
import { fakePorts } from '../../support/fake-ports';

const worker = asSystem('worker');
const siteUrl = 'https://cage.example.org';
const START = new Date('2026-06-01T12:00:00Z');
const SECOND = 1000;
const HOUR = 3600 * SECOND;

const queue = (to: string, notBefore = START) =>
  transaction(worker, (tx) =>
    queueMail(worker, tx, {
      kind: 'lesson-returned',
      to,
      notBefore,
      data: {
        programName: 'Maple',
        playerName: 'Wren',
        coachName: 'Cole',
        lessonNumber: 2,
        path: '/lessons/1',
      },
    }),
  );
const stopUrl = (personId: string, kind: string) => `${siteUrl}/stop/${personId}/${kind}`;
const drain = (ports: ReturnType<typeof fakePorts>) => drainOutbox({ ...ports, siteUrl, stopUrl }, worker);

beforeEach(async () => {
  await prisma.outboxMail.deleteMany();
});

test('what is due leaves, in order; what waits for the morning waits; what was said is forgotten', async () => {
  const ports = fakePorts(START);
  await queue('late@example.org', new Date(START.getTime() + HOUR));
  await queue('now@example.org');
  await queue('before@example.org', new Date(START.getTime() - HOUR));
  expect(await drain(ports)).toBe(2);
  expect(ports.mails.map((mail) => mail.to)).toEqual(['before@example.org', 'now@example.org']);
  ports.later(HOUR);
  expect(await drain(ports)).toBe(1);
  expect(await drain(ports)).toBe(0);
  expect((await prisma.outboxMail.findMany()).map((row) => row.data)).toEqual([{}, {}, {}]);
});

test('a worker that is to end finishes the mail in hand and leaves the others to the next one', async () => {
  const ports = fakePorts(START);
  await queue('one@example.org');
  await queue('two@example.org');
  const isEnding = () => ports.mails.length > 0;
  expect(await drainOutbox({ ...ports, siteUrl, stopUrl, isEnding }, worker)).toBe(1);
  expect(await drain(ports)).toBe(1);
  expect(ports.mails.map((mail) => mail.to).sort()).toEqual(['one@example.org', 'two@example.org']);
});

test('a dead mail server delays with growing pauses, and after a night of it nothing is lost', async () => {
  const ports = fakePorts(START);
  await queue('now@example.org');
  const alive = ports.mailer.send;
  ports.mailer.send = () => Promise.reject(new Error('connection refused'));
  const pauses: number[] = [];
  for (let round = 0; round < 20; round += 1) {
    expect(await drain(ports)).toBe(0);
    const row = await prisma.outboxMail.findFirstOrThrow();
    expect(row).toMatchObject({ attempts: round + 1, lastError: 'connection refused', sentAt: null });
    const pause = row.notBefore.getTime() - ports.clock.now().getTime();
    pauses.push(pause / SECOND);
    ports.later(pause - 1);
    expect(await drain(ports)).toBe(0); // not tried before its time
    ports.later(1);
  }
  expect(pauses.slice(0, 9)).toEqual([15, 30, 60, 120, 240, 480, 960, 1920, 3600]);
  expect(Math.max(...pauses)).toBe(3600);
  expect(ports.clock.now().getTime() - START.getTime()).toBeGreaterThan(12 * HOUR);
  expect(await countOutbox(worker)).toEqual({ waiting: 1, stuck: 0 });
  ports.mailer.send = alive;
  expect(await drain(ports)).toBe(1);
  expect(ports.mails).toHaveLength(1);
});

test('one mail that cannot leave holds up no other', async () => {
  const ports = fakePorts(START);
  await queue('bad@example.org', new Date(START.getTime() - HOUR));
  await queue('good@example.org');
  await prisma.outboxMail.updateMany({
    where: { toEmail: 'bad@example.org' },
    data: { data: { odd: true } },
  });
  expect(await drain(ports)).toBe(1);
  expect(ports.mails.map((mail) => mail.to)).toEqual(['good@example.org']);
  expect(await prisma.outboxMail.findFirst({ where: { toEmail: 'bad@example.org' } })).toMatchObject({
    attempts: 1,
    data: { odd: true },
  });
});

test('two drainers at once never send one mail twice, and between them they send all', async () => {
  const ports = fakePorts(START);
  const all = Array.from({ length: 12 }, (_, i) => `person.${i}@example.org`);
  for (const to of all) await queue(to);
  await Promise.all([drain(ports), drain(ports)]);
  await drain(ports); // one that found everything locked may have gone home early
  expect(ports.mails.map((mail) => mail.to).sort()).toEqual([...all].sort());
  expect(new Set(ports.mails.map((mail) => mail.messageId)).size).toBe(all.length);
});

test('a transaction that is rolled back queues nothing', async () => {
  await expect(
    transaction(worker, async (tx) => {
      await queueMail(worker, tx, {
        kind: 'clip-failed',
        to: 'now@example.org',
        notBefore: START,
        data: { programName: 'Maple', playerName: 'Wren', reason: 'Cut off.', path: '/lessons/1' },
      });
      throw new Error('changed my mind');
    }),
  ).rejects.toThrow('changed my mind');
  expect(await countOutbox(worker)).toEqual({ waiting: 0, stuck: 0 });
});
