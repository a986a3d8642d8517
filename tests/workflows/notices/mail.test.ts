import { addDays } from 'date-fns';
import { beforeEach, describe, expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { countOutbox } from '@/lib/data/outbox.system';
import { queueMail } from '@/lib/data/outbox.write';
import { transaction } from '@/lib/data/transaction';
import type { NoticeBody } from '@/lib/domain/notices/notice';
import { createMailer } from '@/lib/platform/mailer';
import { readStopToken, stopAddress } from '@/lib/platform/stop-address';
import { drainOutbox } from '@/lib/workflows/run-outbox';
import { stopMail } from '@/lib/workflows/stop-mail';
import { tell } from '@/lib/workflows/tell';
import { writeDigests } from '@/lib/workflows/write-digests';
import { bornAged, buildGuardian, buildPlayer, buildProgram } from '../../support/build';
import { aNotice } from '../../support/build-notices';
import { fakePorts } from '../../support/fake-ports';
import { startMailServer } from '../../support/mail-server';

const worker = asSystem('worker');
const siteUrl = 'https://cage.example.org';
const SECRET = 'a secret of the test, which is long enough';
const stopUrl = (personId: string, kind: string) => stopAddress(SECRET, siteUrl, { personId, kind });
const MINUTE = 60_000;
const HOUR = 60 * MINUTE;
/** 15:00 in Chicago, five hours behind UTC in June. */
const AFTERNOON = new Date('2026-06-01T20:00:00Z');

type Ports = ReturnType<typeof fakePorts>;
const drain = (ports: Ports) => drainOutbox({ ...ports, siteUrl, stopUrl }, worker);

const PAIN: NoticeBody = {
  kind: 'pain-reported',
  data: { programName: 'Maple', playerName: 'Wren', lessonNumber: 2, path: '/lessons/1' },
};

async function family() {
  const program = await buildProgram({ timeZone: 'America/Chicago' });
  const player = await buildPlayer(program, { birthDate: bornAged(15, AFTERNOON) });
  const guardian = await buildGuardian(program, [player]);
  const say = (at: Date, body = aNotice(program.name), to: { id: string; email: string | null } = player) =>
    transaction(worker, (tx) =>
      tell(worker, tx, body, {
        programId: program.id,
        playerId: player.id,
        to: [{ personId: to.id, email: to.email!, at }],
        now: at,
      }),
    );
  const choose = (mail: 'daily' | 'off', kind = 'lesson-returned', personId = player.id) =>
    prisma.noticeChoice.create({ data: { personId, kind, mail } });
  return { program, player, guardian, say, choose };
}

beforeEach(async () => {
  await prisma.outboxMail.deleteMany();
  await prisma.notice.deleteMany();
});

describe('quiet hours hold at the moment of sending', () => {
  test('a mail that an outage carried into the night waits for the morning, and is not counted as a failure', async () => {
    const { player, guardian, say } = await family();
    await say(AFTERNOON);
    await say(AFTERNOON, undefined, guardian);
    const ports = fakePorts(AFTERNOON);
    const alive = ports.mailer.send;
    ports.mailer.send = () => Promise.reject(new Error('connection refused'));
    expect(await drain(ports)).toBe(0);
    ports.mailer.send = alive;
    ports.later(7 * HOUR); // 22:00
    expect(await drain(ports)).toBe(1);
    expect(ports.mails.map((mail) => mail.to)).toEqual([guardian.email]);
    const held = await prisma.outboxMail.findFirstOrThrow({ where: { personId: player.id } });
    expect(held).toMatchObject({
      sentAt: null,
      attempts: 1,
      notBefore: new Date('2026-06-02T13:00:00Z'), // 8:00
    });
    ports.later(10 * HOUR - 1);
    expect(await drain(ports)).toBe(0);
    ports.later(1);
    expect(await drain(ports)).toBe(1);
    expect(await countOutbox(worker)).toEqual({ waiting: 0, stuck: 0 });
  });

  test('in the zone the player lives in; also for a mail that does not know whose it is', async () => {
    const { player } = await family();
    await prisma.person.update({ where: { id: player.id }, data: { timeZone: 'Asia/Tokyo' } });
    const { kind, data } = aNotice() as Extract<NoticeBody, { kind: 'lesson-returned' }>;
    // 15:00 in Chicago is 5:00 in Tokyo.
    await transaction(worker, (tx) =>
      queueMail(worker, tx, { kind, data, to: player.email!, notBefore: AFTERNOON }),
    );
    const ports = fakePorts(AFTERNOON);
    expect(await drain(ports)).toBe(0);
    ports.later(3 * HOUR);
    expect(await drain(ports)).toBe(1);
  });

  test('not for somebody who came of age meanwhile, nor for people who are no players', async () => {
    const { player, say } = await family();
    const night = new Date('2026-06-02T03:00:00Z'); // 22:00
    await say(night);
    await prisma.person.update({ where: { id: player.id }, data: { birthDate: bornAged(18, night) } });
    expect(await drain(fakePorts(night))).toBe(1);
  });
});

describe('ending a kind of mail with one click', () => {
  test('each mail that can be ended says where, and the address names nobody but whom it was sent to', async () => {
    const { player, say } = await family();
    await say(AFTERNOON);
    const ports = fakePorts(AFTERNOON);
    await drain(ports);
    const [mail] = ports.mails;
    expect(mail?.stopUrl).toMatch(new RegExp(`^${siteUrl}/api/notices/stop/`));
    const token = mail!.stopUrl!.split('/').at(-1)!;
    expect(readStopToken(SECRET, token)).toEqual({ personId: player.id, kind: 'lesson-returned' });
    expect(mail?.text).toContain(`No more mails of this kind: ${mail?.stopUrl}`);
    expect(mail?.text).toContain(`${siteUrl}/notices/choices`);
    for (const letter of [token.slice(0, -1), `x${token}`, token.replace('returned', 'withdrawn'), '', '..'])
      expect(readStopToken(SECRET, letter)).toBeNull();
    expect(readStopToken('another secret, as long as the first one', token)).toBeNull();
  });

  test('what keeps somebody from harm carries no such address and cannot be ended', async () => {
    const { player, say } = await family();
    await say(AFTERNOON, PAIN);
    const ports = fakePorts(AFTERNOON);
    await drain(ports);
    expect(ports.mails.map((mail) => mail.stopUrl)).toEqual([undefined]);
    await expect(stopMail(worker, { personId: player.id, kind: 'pain-reported' })).rejects.toMatchObject({
      fault: 'not-found',
    });
    await expect(stopMail(worker, { personId: player.id, kind: 'invitation' })).rejects.toMatchObject({
      fault: 'not-found',
    });
  });

  test('ends this kind for this person only, also what waits; twice is the same', async () => {
    const { player, guardian, say } = await family();
    const later = new Date(AFTERNOON.getTime() + HOUR);
    await say(later);
    await say(later, undefined, guardian);
    await stopMail(worker, { personId: player.id, kind: 'lesson-returned' });
    await stopMail(worker, { personId: player.id, kind: 'lesson-returned' });
    await say(later);
    await say(later, PAIN);
    const mails = await prisma.outboxMail.findMany({ orderBy: { toEmail: 'asc' } });
    expect(mails.map((mail) => [mail.personId, mail.kind]).sort()).toEqual(
      [
        [guardian.id, 'lesson-returned'],
        [player.id, 'pain-reported'],
      ].sort(),
    );
    expect(await prisma.notice.count({ where: { personId: player.id } })).toBe(3);
  });

  test('of the daily mail ends every kind in it', async () => {
    const { player, say, choose } = await family();
    await choose('daily');
    await say(AFTERNOON);
    await stopMail(worker, { personId: player.id, kind: 'digest' });
    const ports = fakePorts(addDays(AFTERNOON, 2));
    expect(await writeDigests(ports, worker)).toBe(0);
    const choices = await prisma.noticeChoice.findMany({ where: { personId: player.id } });
    expect(choices.map((one) => [one.kind, one.mail]).sort()).toEqual([
      ['lesson-returned', 'off'],
      ['swing-overdue', 'off'],
    ]);
  });

  test('is refused for somebody who is gone', async () => {
    const kind = 'reply';
    await expect(stopMail(worker, { personId: crypto.randomUUID(), kind })).rejects.toMatchObject({
      fault: 'not-found',
    });
  });
});

describe('the daily mail', () => {
  const digests = () => prisma.outboxMail.findMany({ where: { kind: 'digest' }, orderBy: { id: 'asc' } });

  test('comes at eight in the reader’s own zone, in one mail, once, whoever writes it', async () => {
    const { player, program, say, choose } = await family();
    await choose('daily');
    await say(AFTERNOON);
    await say(new Date(AFTERNOON.getTime() + MINUTE));
    const early = fakePorts(new Date('2026-06-02T12:59:00Z'));
    expect(await writeDigests(early, worker)).toBe(0);
    const eight = fakePorts(new Date('2026-06-02T13:00:00Z'));
    await Promise.all([
      writeDigests(eight, worker),
      writeDigests(eight, worker),
      writeDigests(eight, worker),
    ]);
    const [mail, ...others] = await digests();
    expect(others).toEqual([]);
    expect(mail).toMatchObject({
      personId: player.id,
      programId: program.id,
      data: { lines: ['Wren Sample: lesson 2 is back', 'Wren Sample: lesson 2 is back'], more: 0 },
    });
    expect(await drain(eight)).toBe(1);
    expect(eight.mails[0]).toMatchObject({ subject: `2 notices from ${program.name}` });
    expect(eight.mails[0]?.stopUrl).toContain('.digest.');
    eight.later(HOUR);
    expect(await writeDigests(eight, worker)).toBe(0);
  });

  test('leaves out what was read by then, and does not come for nothing', async () => {
    const { say, choose } = await family();
    await choose('daily');
    await say(AFTERNOON);
    await prisma.notice.updateMany({ data: { readAt: AFTERNOON } });
    expect(await writeDigests(fakePorts(addDays(AFTERNOON, 1)), worker)).toBe(0);
    expect(await digests()).toEqual([]);
    await prisma.notice.updateMany({ data: { readAt: null } });
    expect(await writeDigests(fakePorts(addDays(AFTERNOON, 1)), worker)).toBe(0); // it was counted as told
  });

  test('takes what came after eight with it the next day, and comes late rather than never', async () => {
    const { say, choose } = await family();
    await choose('daily');
    await say(new Date('2026-06-02T13:30:00Z')); // 8:30
    const noon = fakePorts(new Date('2026-06-02T17:00:00Z'));
    expect(await writeDigests(noon, worker)).toBe(0);
    noon.later(24 * HOUR); // the worker stood still at eight
    expect(await writeDigests(noon, worker)).toBe(1);
  });
});

test('a real mail server gets each mail once from two workers, with the head that ends it; a dead one loses none', async () => {
  const { say } = await family();
  const count = 10;
  for (let i = 0; i < count; i += 1) await say(AFTERNOON);
  const from = 'Cagepost <no-reply@localhost>';
  const dead = createMailer({ smtpUrl: 'smtp://127.0.0.1:9', from, dataFolder: '/nowhere' });
  const ports = fakePorts(AFTERNOON);
  expect(await drainOutbox({ ...ports, mailer: dead, siteUrl, stopUrl }, worker)).toBe(0);
  expect(await countOutbox(worker)).toEqual({ waiting: count, stuck: 0 });
  ports.later(MINUTE);
  const server = await startMailServer();
  const mailer = createMailer({ smtpUrl: server.url, from, dataFolder: '/nowhere' });
  const withServer = { ...ports, mailer, siteUrl, stopUrl };
  await Promise.all([drainOutbox(withServer, worker), drainOutbox(withServer, worker)]);
  await drainOutbox(withServer, worker); // one that found everything locked may have gone home early
  await server.stop();
  const rows = await prisma.outboxMail.findMany();
  expect(server.taken.map((one) => one.id).sort()).toEqual(rows.map((row) => `${row.id}@cagepost`).sort());
  expect(rows.every((row) => row.sentAt !== null)).toBe(true);
});
