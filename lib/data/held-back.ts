import { db, type Tx } from './client';
import { heldPlayers } from './strip-media';

/**
 * Whether a legal hold needs this person as they are: it stands on them, on a child of theirs, or on a player they have
 * coached or written to.
 */
export async function isHeldBack(tx: Tx | undefined, personId: string): Promise<boolean> {
  const held = await heldPlayers(tx, null);
  if (held.length === 0) return false;
  if (held.includes(personId)) return true;
  const thread = { playerId: { in: held } };
  // One after the other: inside a transaction there is one connection.
  const counts = [
    () => db(tx).guardianship.count({ where: { guardianId: personId, playerId: { in: held } } }),
    () => db(tx).lesson.count({ where: { coachId: personId, thread } }),
    () => db(tx).return.count({ where: { byId: personId, lesson: { thread } } }),
    () => db(tx).reply.count({ where: { authorId: personId, thread } }),
    () => db(tx).breakdown.count({ where: { byId: personId, lesson: { thread } } }),
  ];
  for (const count of counts) if ((await count()) > 0) return true;
  return false;
}
