import { addDays } from 'date-fns';
import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { readLesson } from '@/lib/data/lessons.read';
import { listReplies } from '@/lib/data/replies.read';
import { prisma } from '@/lib/data/client';
import type { ReplyId } from '@/lib/domain/shared/ids';
import { editReply } from '@/lib/workflows/edit-reply';
import { giveBreakdown } from '@/lib/workflows/give-breakdown';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { setTimeZone } from '@/lib/workflows/set-time-zone';
import { buildBreakdown } from '../../support/build-breakdown';
import { ROWS } from '../../data/matrix-rows';
import { academy } from '../lessons/academy';

// U.S. Center for SafeSport, "How to safely communicate with minor athletes": another adult is on every message.

const mailedTo = (email: string | null) => prisma.outboxMail.count({ where: { toEmail: email ?? '' } });

describe('whatever an adult writes to a minor reaches the guardian', () => {
  test('a returned lesson, a reply and its edit, a breakdown: by mail and on the page', async () => {
    const { people, as, ports, send, giveBack } = await academy({ age: 15 });
    const { lessonId } = await send();
    let mails = await mailedTo(people.guardian.email);
    const told = async () => {
      const now = await mailedTo(people.guardian.email);
      const isMore = now > mails;
      mails = now;
      return isMore;
    };
    await giveBack(lessonId);
    expect(await told()).toBe(true);
    expect((await readLesson(as.guardian, lessonId))?.returned).toEqual(
      (await readLesson(as.player, lessonId))?.returned,
    );
    const id = uuid() as ReplyId;
    await replyInThread(ports, as.coach, { id, lessonId, body: 'Which bat?', at: null });
    expect(await told()).toBe(true);
    await editReply(ports, as.coach, { id, body: 'Which glove?' });
    const [read] = (await listReplies(as.guardian, lessonId)).rows;
    expect(read).toMatchObject({ body: 'Which glove?', earlier: [{ body: 'Which bat?' }] });
    const breakdown = await buildBreakdown({ id: lessonId }, people.coach, { state: 'ready' });
    await giveBreakdown(ports, as.coach, { breakdownId: breakdown.id, withoutCaptions: true });
    expect(await told()).toBe(true);
    expect(await readBreakdown(as.guardian, breakdown.id)).not.toBeNull();
  });

  const reads = Object.entries(ROWS)
    .filter(([name]) => name.endsWith('.read'))
    .flatMap(([name, rows]) => Object.entries(rows).map(([key, row]) => ({ title: `${name} ${key}`, row })))
    .flatMap(({ title, row }) =>
      row.kind === 'target' && row.may.player?.includes('own') ? [{ title, row }] : [],
    );
  test.each(reads)('what the player reads, a verified guardian reads: $title', ({ row }) => {
    expect(row.may.guardian).toContain('own');
  });
});

test('a notice at night waits for the morning of the player’s own zone', async () => {
  const day = addDays(new Date(), 2).toISOString().slice(0, 10);
  const start = new Date(`${day}T03:00:00Z`); // 21:00 or 22:00 in Chicago, noon in Tokyo
  const { people, as, ports, send } = await academy({ age: 15, start });
  const { lessonId } = await send();
  const say = async () => {
    await replyInThread(ports, as.coach, { id: uuid(), lessonId, body: 'Hello.', at: null });
    const last = await prisma.outboxMail.findFirst({
      where: { toEmail: people.player.email ?? '', kind: 'reply' },
      orderBy: { createdAt: 'desc' },
    });
    return last?.notBefore.toISOString();
  };
  expect([`${day}T13:00:00.000Z`, `${day}T14:00:00.000Z`]).toContain(await say());
  await setTimeZone(as.guardian, { playerId: people.player.id, timeZone: 'Asia/Tokyo' });
  expect(await say()).toBe(ports.clock.now().toISOString());
  await expect(setTimeZone(as.coach, { playerId: people.player.id, timeZone: null })).rejects.toMatchObject({
    fault: 'not-found',
  });
});
