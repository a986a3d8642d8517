import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listShown } from '@/lib/data/audit.read';
import { readLesson } from '@/lib/data/lessons.read';
import type { Day } from '@/lib/domain/people/age';
import { type CLEARANCE_KINDS } from '@/lib/domain/people/clearances';
import { emptySheet } from '@/lib/domain/review/sheet';
import { assignLesson } from '@/lib/workflows/assign-lesson';
import { noteShown } from '@/lib/workflows/note-shown';
import { recordClearance } from '@/lib/workflows/record-clearance';
import { replyInThread } from '@/lib/workflows/reply-in-thread';
import { revokeClearance } from '@/lib/workflows/revoke-clearance';
import { saveSheet } from '@/lib/workflows/save-sheet';
import { takeLesson } from '@/lib/workflows/take-lesson';
import {
  buildCoach,
  buildGuardian,
  buildLead,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import { viewerOf } from '../../support/viewers';

async function academy(age = 15) {
  const program = await buildProgram();
  const lead = await buildLead(program);
  const coach = await buildCoach(program, { isCleared: false });
  const player = await buildPlayer(program, { age });
  const guardian = await buildGuardian(program, [player]);
  const lesson = await buildLesson(program, player, { state: 'submitted' });
  const as = async (person: { id: string }) => viewerOf(person, program);
  const record = async (kind: (typeof CLEARANCE_KINDS)[number], by = lead) =>
    recordClearance(await as(by), {
      id: uuid(),
      personId: coach.id,
      kind,
      issuedOn: '2020-01-01' as Day,
      expiresOn: '2100-01-01' as Day,
    });
  return { program, lead, coach, player, guardian, lesson, as, record, ports: fakePorts() };
}

describe('checks open the lessons of minors', () => {
  test('when a lead has recorded both, and close them when one is ended', async () => {
    const { lead, coach, lesson, as, record, ports } = await academy();
    const take = async () => takeLesson(ports, await as(coach), lesson.id);
    const sees = async () => (await readLesson(await as(coach), lesson.id)) !== null;
    await record('background-check');
    await expect(take()).rejects.toMatchObject({ fault: 'not-found' });
    expect(await sees()).toBe(false);
    await record('abuse-prevention');
    expect(await sees()).toBe(true);
    await take();
    await revokeClearance(ports, await as(lead), { personId: coach.id, kind: 'background-check' });
    expect(await sees()).toBe(false);
    // What a coach writes when it runs out in the middle of a review is refused in words.
    const sheet = emptySheet();
    await expect(
      saveSheet(ports, await as(coach), { lessonId: lesson.id, sheet, baseRevision: 0 }),
    ).rejects.toMatchObject({ fault: 'safeguarding', forPeople: expect.stringContaining('is kept') });
  });

  test('are recorded and ended by leads, and not by the coach', async () => {
    const { coach, as, record, ports } = await academy();
    await expect(record('background-check', coach as never)).rejects.toMatchObject({ fault: 'not-found' });
    await expect(
      revokeClearance(ports, await as(coach), { personId: coach.id, kind: 'background-check' }),
    ).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('cannot end before they were issued', async () => {
    const { lead, coach, as } = await academy();
    await expect(
      recordClearance(await as(lead), {
        id: uuid(),
        personId: coach.id,
        kind: 'background-check',
        issuedOn: '2026-02-02' as Day,
        expiresOn: '2026-02-01' as Day,
      }),
    ).rejects.toMatchObject({ fault: 'invalid' });
  });

  test('a lead without them reads everything, and neither takes nor writes', async () => {
    const { program, lesson, as, ports } = await academy();
    const bare = await as(await buildLead(program, { isCleared: false }));
    expect(await readLesson(bare, lesson.id)).not.toBeNull();
    await expect(takeLesson(ports, bare, lesson.id)).rejects.toMatchObject({ fault: 'safeguarding' });
    const reply = { id: uuid(), lessonId: lesson.id, body: 'Hello.', at: null };
    await expect(replyInThread(ports, bare, reply)).rejects.toMatchObject({ fault: 'safeguarding' });
  });

  test('a minor’s lesson is not handed to a coach without them; a grown player’s is', async () => {
    const young = await academy();
    await expect(
      assignLesson(young.ports, await young.as(young.lead), {
        lessonId: young.lesson.id,
        coachId: young.coach.id,
      }),
    ).rejects.toMatchObject({ fault: 'safeguarding' });
    const grown = await academy(18);
    const given = { lessonId: grown.lesson.id, coachId: grown.coach.id };
    await assignLesson(grown.ports, await grown.as(grown.lead), given);
    await takeLesson(grown.ports, await grown.as(grown.coach), grown.lesson.id);
  });

  test('what was recorded is not edited', async () => {
    const { program, record } = await academy();
    await record('background-check');
    await expect(
      prisma.$executeRaw`UPDATE "Clearance" SET "expiresOn" = '2200-01-01' WHERE "programId" = ${program.id}::uuid`,
    ).rejects.toThrow('keeps its history');
  });
});

describe('who saw what of a minor', () => {
  test('is written down once an hour for each thing, for the guardian and leads to read', async () => {
    const { lead, player, guardian, lesson, as, ports } = await academy();
    const shown = { playerId: player.id, what: 'lesson', id: lesson.id } as const;
    const [read, own] = [await as(guardian), await as(lead)];
    await noteShown(ports, own, shown);
    await noteShown(ports, own, shown);
    await noteShown(ports, own, { ...shown, what: 'clip', id: uuid() });
    expect((await listShown(read, player.id)).rows.map((one) => [one.name, one.what])).toEqual([
      [lead.name, 'clip'],
      [lead.name, 'lesson'],
    ]);
    ports.later(3_600_001);
    await noteShown(ports, own, shown);
    expect((await listShown(own, player.id)).rows).toHaveLength(3);
  });

  test('not of a grown player, and not of what the family looks at', async () => {
    const grown = await academy(18);
    const young = await academy();
    for (const { lead, player, guardian, lesson, as, ports } of [grown, young]) {
      const shown = { playerId: player.id, what: 'lesson', id: lesson.id } as const;
      await noteShown(ports, await as(guardian), shown);
      await noteShown(ports, await as(player), shown);
      if (player === grown.player) await noteShown(ports, await as(lead), shown);
      expect((await listShown(await as(lead), player.id)).rows).toEqual([]);
    }
  });

  test('is read by nobody else', async () => {
    const { program, lead, player, lesson, as, ports } = await academy();
    await noteShown(ports, await as(lead), { playerId: player.id, what: 'lesson', id: lesson.id });
    const coach = await buildCoach(program);
    const stranger = await buildGuardian(program, [await buildPlayer(program, { age: 12 })]);
    for (const person of [coach, stranger])
      expect((await listShown(await as(person), player.id)).rows).toEqual([]);
  });
});
