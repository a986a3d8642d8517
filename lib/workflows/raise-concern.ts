import { keepConcern, listConcernReaders, type NewConcern } from '@/lib/data/concerns.write';
import { readProgram } from '@/lib/data/program.read';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { Ports } from './ports';
import { tell } from './tell';

/**
 * Anybody of the program raises a concern, with or without their name. Every lead but the one it may be about is told
 * by mail, without a word of it. Answers how many can read it: none where the only lead is the one it is about. There
 * is no line in the audit: it would name who wrote without a name.
 */
export async function raiseConcern(
  { clock, queue }: Pick<Ports, 'clock' | 'queue'>,
  viewer: Viewer,
  concern: NewConcern,
): Promise<{ readers: number }> {
  const now = clock.now();
  const { name } = await readProgram(viewer);
  return transaction(viewer, async (tx) => {
    const readers = await listConcernReaders(viewer, tx, concern.aboutId);
    if (!(await keepConcern(viewer, tx, concern, now))) return { readers: readers.length };
    const data = { programName: name, path: '/concerns' };
    await tell(
      viewer,
      tx,
      { kind: 'concern-raised', data },
      {
        programId: viewer.programId,
        // Not the player it may be about: the notice would say so.
        playerId: null,
        to: readers.flatMap(({ id, email }) => (email ? [{ personId: id, email, at: now }] : [])),
        now,
      },
    );
    await queue.drainOutbox(tx);
    return { readers: readers.length };
  });
}
