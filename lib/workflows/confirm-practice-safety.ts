import { writeAudit } from '@/lib/data/audit.write';
import { keepSafety } from '@/lib/data/practice.write';
import { readThread } from '@/lib/data/threads.read';
import { transaction } from '@/lib/data/transaction';
import { SAFETY_VERSION } from '@/lib/domain/drills/practice';
import { dayIn, type Day } from '@/lib/domain/people/age';
import { mayHaveLogin } from '@/lib/domain/people/safeguarding';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import type { PersonId } from '@/lib/domain/shared/ids';
import type { Ports } from './ports';

/** Keeps that the place of practice is safe, before the first check-in. Under 13 a guardian says which adult is present. */
export async function confirmPracticeSafety(
  { clock }: Pick<Ports, 'clock'>,
  viewer: Viewer,
  input: { playerId: PersonId; adult: string },
): Promise<void> {
  const now = clock.now();
  const thread = await readThread(viewer, input.playerId);
  if (!thread) throw notFound('player');
  const isChild = !mayHaveLogin(
    { birthDate: thread.player.birthDate as Day | null },
    dayIn(thread.program.timeZone, now),
  );
  const adult = input.adult.trim();
  if (isChild && viewer.personId === input.playerId) {
    throw new CagepostError('safeguarding', 'Under 13 a guardian confirms this.');
  }
  if (isChild && adult === '') {
    throw new CagepostError('invalid', 'Write which adult is present. Nothing else is lost.');
  }
  await transaction(viewer, async (tx) => {
    await keepSafety(viewer, tx, { playerId: input.playerId, adult: adult || null, at: now });
    await writeAudit(viewer, tx, {
      action: 'practice.safety-confirmed',
      subject: `person:${input.playerId}`,
      data: { version: SAFETY_VERSION },
    });
  });
}
