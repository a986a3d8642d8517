import { describe, expect, test } from 'vitest';
import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { listPractised } from '@/lib/data/practice.read';
import type { Day } from '@/lib/domain/people/age';
import { buildCoach, buildLesson, buildPlayer, buildProgram } from '../support/build';
import { buildAssignment, buildDrill } from '../support/build-practice';
import { viewerOf } from '../support/viewers';

const span = (from: string, until: string) => ({ from: from as Day, until: until as Day });

describe('what was practised in some weeks', () => {
  test('has drills that were open in them, days with swings of them, and whether there is more before', async () => {
    const program = await buildProgram();
    const coach = await buildCoach(program);
    const player = await buildPlayer(program);
    const drill = await buildDrill(program);
    const lesson = await buildLesson(program, player, { state: 'returned', coachId: coach.id });
    const old = await buildAssignment(lesson, player, drill, {
      givenAt: new Date('2026-01-05T12:00:00Z'),
      endedAt: new Date('2026-02-01T12:00:00Z'),
    });
    const present = await buildAssignment(lesson, player, drill, {
      givenAt: new Date('2026-03-02T12:00:00Z'),
    });
    const checkIn = (assignmentId: string, day: string, repsDone = 8) =>
      prisma.checkIn.create({
        data: {
          id: uuid(),
          assignmentId,
          byId: player.id,
          day: new Date(day),
          setsDone: 1,
          repsDone,
          painLevel: 0,
        },
      });
    await checkIn(old.id, '2026-01-07');
    await checkIn(present.id, '2026-03-03');
    await checkIn(present.id, '2026-03-04', 0);
    await checkIn(present.id, '2026-05-20');
    const viewer = await viewerOf(player, program);
    const march = await listPractised(viewer, player.id, span('2026-03-02', '2026-03-29'));
    expect(march).toMatchObject({ drills: [{ title: drill.title, days: ['2026-03-03'] }], hasEarlier: true });
    const winter = await listPractised(viewer, player.id, span('2026-01-05', '2026-02-08'));
    expect(winter).toMatchObject({ drills: [{ days: ['2026-01-07'] }], hasEarlier: false });
    const stranger = await viewerOf(await buildPlayer(program), program);
    expect(await listPractised(stranger, player.id, span('2026-01-05', '2026-03-29'))).toEqual({
      drills: [],
      hasEarlier: false,
    });
  });
});
