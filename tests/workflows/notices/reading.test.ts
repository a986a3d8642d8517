import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { countUnread, listMailChoices, listNotices } from '@/lib/data/notices.read';
import { transaction } from '@/lib/data/transaction';
import type { NoticeKind } from '@/lib/domain/notices/notice';
import { chooseMail } from '@/lib/workflows/choose-mail';
import { readNotices } from '@/lib/workflows/read-notices';
import { tell } from '@/lib/workflows/tell';
import { buildCoach, buildGuardian, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { aNotice, buildNotice } from '../../support/build-notices';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

const NOW = new Date('2026-06-01T18:00:00Z');
const HOUR = 3_600_000;

async function crew() {
  const program = await buildProgram();
  const player = await buildPlayer(program, { age: 15 });
  const people = {
    player,
    guardian: await buildGuardian(program, [player]),
    coach: await buildCoach(program),
    lead: await buildLead(program),
  };
  return { program, ...people };
}

describe('a list of notices', () => {
  test('is read by its owner and by nobody else, and in the program it came from', async () => {
    const { program, player, guardian, coach, lead } = await crew();
    const far = await buildProgram();
    await prisma.membership.create({ data: { programId: far.id, personId: player.id, role: 'player' } });
    const { id } = await buildNotice(program, player);
    const now = new Date();
    const seenBy = async (person: { id: string }, where = program) =>
      (await listNotices(await viewerOf(person, where), now)).rows.map((row) => row.id);
    expect(await seenBy(player)).toEqual([id]);
    expect(await seenBy(player, far)).toEqual([]);
    for (const other of [guardian, coach, lead]) {
      expect(await seenBy(other)).toEqual([]);
      const viewer = await viewerOf(other, program);
      expect(await readNotices(fakePorts(now), viewer, { id })).toBe(0);
      expect(await readNotices(fakePorts(now), viewer, 'all')).toBe(0);
    }
    expect(await countUnread(await viewerOf(player, program), now)).toBe(1);
  });

  test('shows nothing before its time, neither in the list nor in the count, and does not mark it read', async () => {
    const { program, player } = await crew();
    const viewer = await viewerOf(player, program);
    const morning = new Date(NOW.getTime() + HOUR);
    const { id } = await buildNotice(program, player, { at: NOW, shownFrom: morning });
    expect(await countUnread(viewer, NOW)).toBe(0);
    expect((await listNotices(viewer, NOW)).rows).toEqual([]);
    expect(await readNotices(fakePorts(NOW), viewer, 'all')).toBe(0);
    expect((await listNotices(viewer, morning)).rows.map((row) => row.id)).toEqual([id]);
    expect(await countUnread(viewer, morning)).toBe(1);
  });

  test('goes on page by page, newest first, with none twice and none left out, also where many came at once', async () => {
    const { program, player } = await crew();
    const viewer = await viewerOf(player, program);
    const made: string[] = [];
    for (let i = 0; i < 65; i += 1) {
      const shownFrom = new Date(NOW.getTime() - Math.floor(i / 20) * HOUR);
      made.push((await buildNotice(program, player, { at: NOW, shownFrom })).id);
    }
    const seen: string[] = [];
    let page = await listNotices(viewer, NOW);
    seen.push(...page.rows.map((row) => row.id));
    while (page.next) {
      page = await listNotices(viewer, NOW, page.next);
      seen.push(...page.rows.map((row) => row.id));
    }
    expect(seen).toHaveLength(65);
    expect([...seen].sort()).toEqual([...made].sort());
    const times = await prisma.notice.findMany({ where: { id: { in: seen } } });
    const at = new Map(times.map((one) => [one.id, one.shownFrom.getTime()]));
    expect(seen.map((id) => at.get(id))).toEqual([...at.values()].sort((a, b) => b - a));
  });

  test('marks one as read, then all, and says how many were new', async () => {
    const { program, player } = await crew();
    const viewer = await viewerOf(player, program);
    const ports = fakePorts();
    const first = await buildNotice(program, player);
    await buildNotice(program, player);
    await buildNotice(program, player);
    expect(await readNotices(ports, viewer, { id: first.id })).toBe(1);
    expect(await readNotices(ports, viewer, { id: first.id })).toBe(0);
    expect(await countUnread(viewer, new Date())).toBe(2);
    expect(await readNotices(ports, viewer, 'all')).toBe(2);
    expect(await countUnread(viewer, new Date())).toBe(0);
  });
});

describe('how it goes by mail', () => {
  const tellOnce = async (
    people: Awaited<ReturnType<typeof crew>>,
    kind: 'lesson-returned' | 'pain-reported',
    once?: string,
  ) => {
    const { program, player } = people;
    const viewer = await viewerOf(people.coach, program);
    const body = aNotice(program.name);
    const data = { ...body.data, playerName: 'Wren', lessonNumber: 2, coachName: 'Cole' };
    return transaction(viewer, (tx) =>
      tell(
        viewer,
        tx,
        { kind, data },
        {
          programId: program.id,
          playerId: player.id,
          to: [{ personId: player.id, email: player.email!, at: NOW }],
          now: NOW,
          ...(once ? { once } : {}),
        },
      ),
    );
  };
  const mailsOf = (person: { id: string }) =>
    prisma.outboxMail.findMany({ where: { personId: person.id }, orderBy: { id: 'asc' } });
  const choose = async (people: Awaited<ReturnType<typeof crew>>, kind: NoticeKind, mail: 'daily' | 'off') =>
    chooseMail(await viewerOf(people.player, people.program), [{ kind, mail }]);

  test('at once by default, under the id of the notice', async () => {
    const people = await crew();
    expect(await tellOnce(people, 'lesson-returned')).toBe(1);
    const [notice] = await prisma.notice.findMany({ where: { personId: people.player.id } });
    const mails = await mailsOf(people.player);
    expect(mails.map((mail) => mail.id)).toEqual([notice?.id]);
    expect(mails[0]).toMatchObject({ programId: people.program.id, toEmail: people.player.email });
    expect(notice).toMatchObject({ mail: 'at-once', playerId: people.player.id, readAt: null });
  });

  test.each(['daily', 'off'] as const)('%s: a line in the list, no mail of its own', async (mail) => {
    const people = await crew();
    await choose(people, 'lesson-returned', mail);
    await tellOnce(people, 'lesson-returned');
    expect(await mailsOf(people.player)).toEqual([]);
    const [notice] = await prisma.notice.findMany({ where: { personId: people.player.id } });
    expect(notice?.mail).toBe(mail);
  });

  test('turned off: what has not left yet does not leave any more', async () => {
    const people = await crew();
    await tellOnce(people, 'lesson-returned');
    expect(await mailsOf(people.player)).toHaveLength(1);
    await choose(people, 'lesson-returned', 'off');
    expect(await mailsOf(people.player)).toEqual([]);
  });

  test('what keeps somebody from harm cannot be turned off, and nothing of the request is kept', async () => {
    const people = await crew();
    const viewer = await viewerOf(people.player, people.program);
    await expect(
      chooseMail(viewer, [
        { kind: 'reply', mail: 'off' },
        { kind: 'pain-reported', mail: 'off' },
      ]),
    ).rejects.toMatchObject({ fault: 'invalid', forPeople: expect.stringContaining('always come at once') });
    expect(await listMailChoices(viewer)).toEqual(new Map());
    // Not even by a row that came there another way.
    await prisma.noticeChoice.create({
      data: { personId: people.player.id, kind: 'pain-reported', mail: 'off' },
    });
    await tellOnce(people, 'pain-reported');
    expect((await mailsOf(people.player)).map((mail) => mail.kind)).toEqual(['pain-reported']);
  });

  test('told twice for one cause is told once, also by two at the same time', async () => {
    const people = await crew();
    const told = await Promise.all(
      Array.from({ length: 4 }, () => tellOnce(people, 'lesson-returned', 'lesson 2')),
    );
    expect(told.reduce((sum, one) => sum + one, 0)).toBe(1);
    expect(await mailsOf(people.player)).toHaveLength(1);
    expect(await tellOnce(people, 'lesson-returned', 'lesson 3')).toBe(1);
    expect(await prisma.notice.count({ where: { personId: people.player.id } })).toBe(2);
  });

  test('a cause that is undone tells nobody', async () => {
    const people = await crew();
    const viewer = await viewerOf(people.coach, people.program);
    const undone = transaction(viewer, async (tx) => {
      await tell(viewer, tx, aNotice(), {
        programId: people.program.id,
        playerId: null,
        to: [{ personId: people.player.id, email: people.player.email!, at: NOW }],
        now: NOW,
      });
      throw new Error('changed my mind');
    });
    await expect(undone).rejects.toThrow('changed my mind');
    expect(await prisma.notice.count({ where: { personId: people.player.id } })).toBe(0);
    expect(await mailsOf(people.player)).toEqual([]);
  });
});
