import { beforeAll, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import { buildCoach, buildLead, buildPlayer } from '../support/build';
import { buildWorld, isGranted, type TargetRow } from '../support/matrix';
import { viewerOf } from '../support/viewers';
import { listPeople } from '@/lib/data/people-lists.read';
import { listPlayers } from '@/lib/data/players.read';
import { readDesk } from '@/lib/data/desk.read';
import { ROWS } from './matrix-rows';

// A coach whose checks do not hold neither sees nor writes to minors (the player of the matrix is 15).

/** What is about the coach, the program or the lesson's money, and tells nothing of a minor. */
const NOT_OF_A_MINOR = new Set([
  'clearances.read listClearances',
  'clearances.read readClearances',
  'documents.write createDocument',
  'drill-clips.read listComingClips',
  'drill-clips.write announceDrillClip',
  'drill-clips.write takeAwayDrillClip',
  'drills.read listDrills',
  'drills.write replaceDrill',
  'drills.write retireDrill',
  'desk.read listCoaches',
  'remarks.read readRemark',
  'remarks.write keepRemark',
  'remarks.write renameRemark',
  'remarks.write retireRemark',
  'remarks.write assertRemarksThere',
  'breakdown-parts.write claimRemark',
  'calendar.write keepCalendarKey',
  'checklists.read listChecklistVersions',
  'checklists.read readChecklistVersion',
  'desk-views.read listDeskViews',
  'desk-views.write keepDeskView',
  'desk-views.write removeDeskView',
  'hours.read readCoachTerms',
  'hours.write saveOwnHours',
  'loads.read listLoads',
]);

let world: Awaited<ReturnType<typeof buildWorld>>;
beforeAll(async () => {
  world = await buildWorld();
});

const rows = Object.entries(ROWS)
  .flatMap(([name, all]) => Object.entries(all).map(([key, row]) => ({ title: `${name} ${key}`, row })))
  .flatMap(({ title, row }) => (row.kind === 'target' ? [[title, row] as const] : []))
  .filter(([title, row]) => row.may.coach?.includes('own') && !NOT_OF_A_MINOR.has(title));

const grantedTo = async (row: TargetRow, viewer: Viewer) => {
  try {
    return await isGranted(row, viewer, world.targets.own);
  } catch (error) {
    if (error instanceof CagepostError && error.fault === 'safeguarding') return false;
    throw error;
  }
};

describe('a coach whose checks ran out', () => {
  test.each(rows)('%s', async (title, row) => {
    const { coach } = world.staff;
    expect({ title, granted: await grantedTo(row, await viewerOf(coach, world.here)) }).toEqual({
      title,
      granted: true,
    });
    // The same coach, so that nothing but the checks differs.
    const viewer = { ...(await viewerOf(coach, world.here)), isCleared: false } as Viewer;
    expect({ title, granted: await grantedTo(row, viewer) }).toEqual({ title, granted: false });
  });
});

test('lists leave minors out and keep grown players and one’s own children', async () => {
  const adult = await buildPlayer(world.here, { age: 30 });
  const unknown = await buildPlayer(world.here, { birthDate: null });
  const minor = world.targets.own.player;
  const bare = await viewerOf(await buildCoach(world.here, { isCleared: false }), world.here);
  const ids = (await listPlayers(bare)).rows.map((one) => one.id);
  expect(ids).toContain(adult.id);
  expect(ids).not.toContain(unknown.id);
  expect(ids).not.toContain(minor.id);
  const groups = await Promise.all([listPeople(bare, 'player'), listPeople(bare, 'staff')]);
  const people = groups.flatMap(({ rows }) => rows.map((one) => one.personId));
  expect(people).toContain(adult.id);
  expect(people).toContain(world.staff.lead.id);
  expect(people).not.toContain(minor.id);
  const desk = await readDesk(bare, { filter: 'all', now: new Date() });
  expect(desk.rows).toEqual([]);
  const parent = await buildCoach(world.here, { isCleared: false });
  await prisma.membership.create({
    data: { programId: world.here.id, personId: parent.id, role: 'guardian' },
  });
  await prisma.guardianship.create({
    data: { guardianId: parent.id, playerId: minor.id, verifiedAt: new Date() },
  });
  const seen = (await listPlayers(await viewerOf(parent, world.here))).rows.map((one) => one.id);
  expect(seen).toContain(minor.id);
});

test('a lead sees everybody whatever the checks: somebody has to', async () => {
  const lead = await buildLead(world.here, { isCleared: false });
  const ids = (await listPlayers(await viewerOf(lead, world.here))).rows.map((one) => one.id);
  expect(ids).toContain(world.targets.own.player.id);
});
