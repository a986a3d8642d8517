import { v7 as uuid } from 'uuid';
import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { countConcerns, listConcerns } from '@/lib/data/concerns.read';
import type { PersonId } from '@/lib/domain/shared/ids';
import { closeConcern } from '@/lib/workflows/close-concern';
import { raiseConcern } from '@/lib/workflows/raise-concern';
import { buildCoach, buildGuardian, buildLead, buildPlayer, buildProgram } from '../../support/build';
import { fakePorts } from '../../support/fake-ports';
import type { Viewer } from '@/lib/domain/people/viewer';
import { viewerOf } from '../../support/viewers';

async function academy() {
  const program = await buildProgram();
  const [lead, accused, coach] = [
    await buildLead(program),
    await buildLead(program),
    await buildCoach(program),
  ];
  const player = await buildPlayer(program, { age: 14 });
  const guardian = await buildGuardian(program, [player]);
  const as = async (person: { id: string }) => viewerOf(person, program);
  const concern = (over: object = {}) => ({
    id: uuid(),
    aboutId: null as PersonId | null,
    playerId: null as PersonId | null,
    body: 'He asked for another number.',
    isNamed: true,
    ...over,
  });
  return { program, lead, accused, coach, player, guardian, as, concern, ports: fakePorts() };
}
const read = async (viewer: Viewer, state: 'open' | 'closed' = 'open') =>
  (await listConcerns(viewer, state)).rows;
const mailed = (email: string | null) =>
  prisma.outboxMail.findMany({ where: { toEmail: email ?? '', kind: 'concern-raised' } });

describe('a concern', () => {
  test('about a lead is read by every other lead and not by that one', async () => {
    const { lead, accused, coach, player, guardian, as, concern, ports } = await academy();
    const one = concern({ aboutId: accused.id, playerId: player.id });
    expect(await raiseConcern(ports, await as(guardian), one)).toEqual({ readers: 1 });
    expect(await read(await as(lead))).toMatchObject([
      {
        id: one.id,
        body: one.body,
        raisedBy: guardian.name,
        about: accused.name,
        player: { id: player.id },
        closed: null,
      },
    ]);
    for (const person of [accused, coach, player, guardian]) {
      expect(await read(await as(person))).toEqual([]);
      expect(await countConcerns(await as(person))).toBe(0);
    }
    const closing = { id: one.id, outcome: 'Nothing was wrong.' };
    await expect(closeConcern(ports, await as(accused), closing)).rejects.toMatchObject({
      fault: 'not-found',
    });
    expect(await mailed(lead.email)).toHaveLength(1);
    expect(await mailed(accused.email)).toHaveLength(0);
  });

  test('may be raised by a child without a name, and nothing tells who it was', async () => {
    const { program, lead, player, as, concern, ports } = await academy();
    const one = concern({ isNamed: false });
    await raiseConcern(ports, await as(player), one);
    const [concernRead] = await read(await as(lead));
    expect(concernRead).toMatchObject({ raisedBy: null });
    const audit = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    const mails = await mailed(lead.email);
    for (const rows of [audit, mails, [concernRead]]) expect(JSON.stringify(rows)).not.toContain(player.id);
    expect(JSON.stringify(mails)).not.toContain(one.body);
  });

  test('sent twice is one', async () => {
    const { lead, guardian, as, concern, ports } = await academy();
    const one = concern();
    await raiseConcern(ports, await as(guardian), one);
    await raiseConcern(ports, await as(guardian), one);
    expect(await read(await as(lead))).toHaveLength(1);
    expect(await mailed(lead.email)).toHaveLength(1);
  });

  test('about the only lead is kept, and says that nobody can read it', async () => {
    const program = await buildProgram();
    const lead = await buildLead(program);
    const player = await buildPlayer(program, { age: 14 });
    const one = { id: uuid(), aboutId: lead.id, playerId: null, body: 'Help.', isNamed: true };
    expect(await raiseConcern(fakePorts(), await viewerOf(player, program), one)).toEqual({ readers: 0 });
    expect(await read(await viewerOf(lead, program))).toEqual([]);
  });

  test('about a stranger or on somebody else’s thread is refused', async () => {
    const { program, player, as, concern, ports } = await academy();
    const other = await buildPlayer(program, { age: 14 });
    const far = await buildCoach(await buildProgram());
    for (const wrong of [{ playerId: other.id }, { aboutId: far.id }]) {
      await expect(raiseConcern(ports, await as(player), concern(wrong))).rejects.toMatchObject({
        fault: 'not-found',
      });
    }
  });

  test('is closed once, with what was done; its words are never changed', async () => {
    const { program, lead, accused, guardian, as, concern, ports } = await academy();
    const one = concern();
    await raiseConcern(ports, await as(guardian), one);
    await closeConcern(ports, await as(lead), { id: one.id, outcome: 'Told the police.' });
    await expect(
      closeConcern(ports, await as(accused), { id: one.id, outcome: 'Nothing.' }),
    ).rejects.toMatchObject({ fault: 'wrong-state' });
    expect(await read(await as(lead), 'closed')).toMatchObject([
      { closed: { by: lead.name, outcome: 'Told the police.' } },
    ]);
    await expect(
      prisma.$executeRaw`UPDATE "Concern" SET body = '' WHERE "programId" = ${program.id}::uuid`,
    ).rejects.toThrow('keeps its history');
    await expect(
      prisma.$executeRaw`DELETE FROM "Concern" WHERE "programId" = ${program.id}::uuid`,
    ).rejects.toThrow('keeps its history');
  });
});
