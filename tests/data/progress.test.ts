import { beforeAll, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { listSwings, readSwing, SWINGS_AT_ONCE } from '@/lib/data/progress.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import { emptySheet } from '@/lib/domain/review/sheet';
import { buildClip, buildCoach, buildLesson, buildPlayer, buildProgram } from '../support/build';
import { viewerOf } from '../support/viewers';

let player: Awaited<ReturnType<typeof buildPlayer>>;
let program: Awaited<ReturnType<typeof buildProgram>>;
let asPlayer: Viewer;
let asCoach: Viewer;
let coachId: string;

beforeAll(async () => {
  program = await buildProgram();
  const coach = await buildCoach(program);
  coachId = coach.id;
  player = await buildPlayer(program);
  asPlayer = await viewerOf(player, program);
  asCoach = await viewerOf(coach, program);
});

const pinned = (clipId: string, frame: number) => ({
  ...emptySheet(),
  pins: [{ checkpoint: 'contact' as const, clipId, frame, strike: null }],
});
const frameOf = (swing: { sheet: { pins: { frame: number }[] } | null } | undefined) =>
  swing?.sheet?.pins[0]?.frame ?? null;

describe('what is being written', () => {
  test('is seen by staff alone until it is returned', async () => {
    const lesson = await buildLesson(program, player, { state: 'in_review', coachId });
    const clip = await buildClip(lesson);
    await prisma.review.create({
      data: { lessonId: lesson.id, sheet: pinned(clip.id, 7), updatedById: coachId },
    });
    expect(frameOf((await readSwing(asCoach, clip.id)) ?? undefined)).toBe(7);
    expect(frameOf((await listSwings(asCoach, player.id))[0])).toBe(7);
    const mine = await readSwing(asPlayer, clip.id);
    expect(mine).toMatchObject({ sheet: null, returned: null, player: { id: player.id } });
    expect((await listSwings(asPlayer, player.id))[0]?.sheet).toBeNull();
  });

  test('again after a return stands beside what was returned', async () => {
    const lesson = await buildLesson(program, player, { state: 'returned', coachId });
    const clip = await buildClip(lesson);
    await prisma.return.updateMany({ where: { lessonId: lesson.id }, data: { sheet: pinned(clip.id, 20) } });
    await prisma.review.create({
      data: { lessonId: lesson.id, sheet: pinned(clip.id, 30), updatedById: coachId },
    });
    await prisma.lesson.update({ where: { id: lesson.id }, data: { state: 'in_review' } });
    const coach = await readSwing(asCoach, clip.id);
    expect([coach?.sheet?.pins[0]?.frame, coach?.returned?.pins[0]?.frame]).toEqual([30, 20]);
    const mine = await readSwing(asPlayer, clip.id);
    expect([mine?.sheet?.pins[0]?.frame, mine?.returned?.pins[0]?.frame]).toEqual([20, 20]);
  });
});

test('drafts, withdrawn lessons and clips that are not ready are left out', async () => {
  const other = await buildPlayer(program);
  const viewer = await viewerOf(other, program);
  await buildLesson(program, other, { state: 'draft' });
  await buildLesson(program, other, { state: 'withdrawn' });
  const sent = await buildLesson(program, other, { state: 'submitted' });
  await buildClip(sent, { state: 'preparing' });
  const ready = await buildClip(sent, { position: 1 });
  const swings = await listSwings(viewer, other.id);
  expect(swings.map((swing) => swing.lessonId)).toEqual([sent.id]);
  expect(swings[0]?.clips.map((clip) => clip.id)).toEqual([ready.id]);
});

test('a long thread comes page by page, newest first, each lesson once', async () => {
  const long = await buildPlayer(program);
  const viewer = await viewerOf(long, program);
  for (let count = 0; count < SWINGS_AT_ONCE + 3; count++) await buildLesson(program, long);
  const first = await listSwings(viewer, long.id);
  expect(first).toHaveLength(SWINGS_AT_ONCE);
  const rest = await listSwings(viewer, long.id, { before: first.at(-1)!.number });
  const numbers = [...first, ...rest].map((swing) => swing.number);
  expect(numbers).toEqual(Array.from({ length: SWINGS_AT_ONCE + 3 }, (_, at) => SWINGS_AT_ONCE + 3 - at));
});
