import { randomUUID } from 'node:crypto';
import { prisma } from '@/lib/data/client';
import type { Claims } from '@/lib/auth/session';
import { liveSession } from '@/lib/auth/viewer';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { PersonId, ProgramId } from '@/lib/domain/shared/ids';

/** The claims of a fresh session of this person, looking at the program. */
export async function claimsOf(
  person: { id: string },
  program: { id: string } | null = null,
): Promise<Claims> {
  const { sessionVersion } = await prisma.person.findUniqueOrThrow({ where: { id: person.id } });
  const now = Math.floor(Date.now() / 1000);
  return {
    sub: person.id as PersonId,
    sid: randomUUID(),
    ver: sessionVersion,
    prog: program && (program.id as ProgramId),
    how: 'password',
    since: now,
    iat: now,
  };
}

/** The viewer that a signed-in person is, made the only way there is. Throws where a session would have none. */
export async function viewerOf(person: { id: string }, program: { id: string }): Promise<Viewer> {
  const session = await liveSession(await claimsOf(person, program), new Date());
  if (!session?.viewer) throw new Error('This person has no place in that program.');
  return session.viewer;
}
