import { describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import { readProgram } from '@/lib/data/program.read';
import { setProgramZone } from '@/lib/workflows/set-program-zone';
import { buildCoach, buildLead, buildLesson, buildPlayer, buildProgram } from '../../support/build';
import { viewerOf } from '../../support/viewers';

async function academy() {
  const program = await buildProgram({ timeZone: 'America/Chicago' });
  return { program, lead: await viewerOf(await buildLead(program), program) };
}

describe('the zone of a program', () => {
  test('is changed by a lead, audited once, and leaves a promise that was given as it is', async () => {
    const { program, lead } = await academy();
    const player = await buildPlayer(program);
    const { id, promisedAt } = await buildLesson(program, player, { state: 'submitted' });
    await setProgramZone(lead, { timeZone: 'Asia/Tokyo' });
    await setProgramZone(lead, { timeZone: 'Asia/Tokyo' });
    expect((await readProgram(lead)).timeZone).toBe('Asia/Tokyo');
    expect((await prisma.lesson.findUniqueOrThrow({ where: { id } })).promisedAt).toEqual(promisedAt);
    const audit = await prisma.auditEntry.findMany({ where: { programId: program.id } });
    expect(audit.map(({ action, data }) => [action, data])).toEqual([
      ['program.zone', { from: 'America/Chicago', to: 'Asia/Tokyo' }],
    ]);
  });

  test.each(['Nowhere/Atall', '', 'america/chicago; drop'])(
    '%s is refused and changes nothing',
    async (timeZone) => {
      const { lead } = await academy();
      await expect(setProgramZone(lead, { timeZone })).rejects.toMatchObject({ fault: 'invalid' });
      expect((await readProgram(lead)).timeZone).toBe('America/Chicago');
    },
  );

  test('is not a coach’s to change', async () => {
    const { program, lead } = await academy();
    const coach = await viewerOf(await buildCoach(program), program);
    await expect(setProgramZone(coach, { timeZone: 'Asia/Tokyo' })).rejects.toMatchObject({
      fault: 'not-found',
    });
    expect((await readProgram(lead)).timeZone).toBe('America/Chicago');
  });
});
