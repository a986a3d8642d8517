import { expect, test } from 'vitest';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import { stopAddress } from '@/lib/platform/stop-address';
import { pauseContact } from '@/lib/workflows/pause-contact';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { drainOutbox } from '@/lib/workflows/run-outbox';
import { withdrawLesson } from '@/lib/workflows/withdraw-lesson';
import { academy, fullDraft, readySheet } from '../lessons/academy';
import { viewerOf } from '../../support/viewers';

// 15:00 in Chicago: no quiet hours.
const START = new Date('2027-01-15T21:00:00Z');

test('a whole lesson of a minor leaves none of its words in a notice or a mail, and each side has a list of it', async () => {
  const { program, people, as, ports, send, giveBack } = await academy({ age: 15, start: START });
  const { lessonId } = await send();
  const secret = 'It hurts when I swing';
  await replyInThread(ports, as.player, { id: crypto.randomUUID(), lessonId, body: secret, at: null });
  await giveBack(lessonId);
  await replyInThread(ports, as.coach, { id: crypto.randomUUID(), lessonId, body: secret, at: null });
  const next = await send();
  await withdrawLesson(ports, as.player, { lessonId: next.lessonId, reason: secret });
  const guardian = await viewerOf(people.guardian, program);
  await pauseContact(ports, guardian, { playerId: people.player.id, isPaused: true });

  const kindsOf = async (person: { id: string }) =>
    (await prisma.notice.findMany({ where: { personId: person.id }, orderBy: { id: 'asc' } })).map(
      (one) => one.kind,
    );
  const family = [
    'lesson-submitted',
    'lesson-taken',
    'lesson-returned',
    'reply',
    'lesson-submitted',
    'lesson-withdrawn',
  ];
  expect(await kindsOf(people.player)).toEqual(expect.arrayContaining(family));
  expect(await kindsOf(people.guardian)).toEqual(expect.arrayContaining(family));
  expect(await kindsOf(people.coach)).toEqual(
    expect.arrayContaining(['lesson-submitted', 'reply', 'lesson-withdrawn', 'contact-paused']),
  );

  const siteUrl = 'https://cage.example.org';
  const stopUrl = (personId: string, kind: string) =>
    stopAddress('a secret of the test, long enough', siteUrl, { personId, kind });
  const written = JSON.stringify([
    await prisma.notice.findMany({ where: { programId: program.id } }),
    await prisma.outboxMail.findMany({ where: { programId: program.id } }),
  ]);
  await drainOutbox({ ...ports, siteUrl, stopUrl }, asSystem('worker'));
  expect(ports.mails.length).toBeGreaterThan(8);
  const sheet = readySheet();
  const words = [secret, fullDraft().question, sheet.fixFirst?.sentence ?? 'no fix first'];
  for (const text of [written, ...ports.mails.map((mail) => `${mail.subject} ${mail.text} ${mail.html}`)]) {
    for (const word of words) expect(text).not.toContain(word);
    expect(text).not.toMatch(/<img|data:image|\.mp4|\.jpg|\b\d+ ?(degrees|mph|°)/);
  }
});
