import { v7 as uuid } from 'uuid';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { DEFAULT_DEADLINES } from '@/lib/domain/privacy/retention';
import { keepDeadlines } from '@/lib/workflows/keep-deadlines';
import { buildDrill } from '../../support/build-practice';
import { inDays, openHousehold, storedDrillClip, system } from './household';

let home: Awaited<ReturnType<typeof openHousehold>>;
beforeEach(async () => {
  home = await openHousehold();
});
afterEach(() => home.close());

const night = (days: number) => keepDeadlines(home.at(inDays(days)), system);

describe('the clip of a drill', () => {
  const end = DEFAULT_DEADLINES['drill-clips'];
  const stands = async (id: string) => (await prisma.clip.count({ where: { id, removedAt: null } })) > 0;

  test('stays while the drill is offered, without its original', async () => {
    const clip = await storedDrillClip(home.storage, home.drill, home.coach);
    await night(end + 400);
    expect(await home.keysOf(clip)).toEqual([`clips/${clip.id}/frames.json`, `clips/${clip.id}/review.mp4`]);
    expect(await stands(clip.id)).toBe(true);
  });

  test('stays while somebody practises a version that is offered no more, and goes after that', async () => {
    const clip = await storedDrillClip(home.storage, home.drill, home.coach);
    const where = { id: String(home.drill.id) };
    await prisma.drill.update({ where, data: { retiredAt: inDays(0) } });
    await night(end + 400);
    expect(await stands(clip.id)).toBe(true);
    await prisma.assignment.updateMany({ where: { drillId: where.id }, data: { endedAt: inDays(400) } });
    await night(400 + end - 1);
    expect(await stands(clip.id)).toBe(true);
    await night(400 + end + 1);
    expect(await stands(clip.id)).toBe(false);
    expect(await home.keysOf(clip)).toEqual([]);
    // The words of the drill stay.
    expect(await prisma.drill.findUniqueOrThrow({ where })).toMatchObject({ title: home.drill.title });
  });

  test('goes so long after the drill was retired when nobody practises it', async () => {
    const clip = await storedDrillClip(home.storage, await buildDrill(home.program), home.coach);
    await prisma.drill.updateMany({ where: { clipId: clip.id }, data: { retiredAt: inDays(100) } });
    await night(100 + end - 1);
    expect(await stands(clip.id)).toBe(true);
    await night(100 + end + 1);
    expect(await stands(clip.id)).toBe(false);
  });

  test('stays while any version that shows it is offered', async () => {
    const clip = await storedDrillClip(home.storage, home.drill, home.coach);
    await prisma.assignment.updateMany({ data: { endedAt: inDays(0) } });
    const { id, drawing: _drawing, ...facts } = home.drill;
    await prisma.drill.update({ where: { id: String(id) }, data: { retiredAt: inDays(0) } });
    await prisma.drill.create({ data: { ...facts, id: uuid(), number: 2, clipId: clip.id } });
    await night(end + 400);
    expect(await stands(clip.id)).toBe(true);
  });

  test('that never arrived goes, and one of another program by that program’s own days', async () => {
    const clip = await storedDrillClip(home.storage, home.drill, home.coach, { state: 'uploading' });
    const far = await openHousehold();
    const longer = { retention: { 'drill-clips': end + 100 } };
    await prisma.program.update({ where: { id: far.program.id }, data: longer });
    const theirs = await storedDrillClip(far.storage, far.drill, far.coach, { state: 'uploading' });
    await night(end - 1);
    expect(await stands(clip.id)).toBe(true);
    await night(end + 1);
    expect(await stands(clip.id)).toBe(false);
    expect(await stands(theirs.id)).toBe(true);
    await far.close();
  });
});
