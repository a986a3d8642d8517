import { v7 as uuid } from 'uuid';
import { isStaff, type Viewer } from '@/lib/domain/people/viewer';
import { CagepostError, notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';

const MOST_VIEWS = 12;

/** Keeps a view of the desk under a name of the viewer's own; the same name again changes what it shows. Staff only. */
export async function keepDeskView(
  viewer: Viewer,
  tx: Tx,
  { name, query }: { name: string; query: string },
): Promise<void> {
  if (!isStaff(viewer)) throw notFound('desk');
  const { programId, personId } = viewer;
  const others = await db(tx).deskView.count({ where: { programId, personId, name: { not: name } } });
  if (others >= MOST_VIEWS) {
    throw new CagepostError(
      'invalid',
      `You have ${MOST_VIEWS} of them already. Remove one first; nothing was changed.`,
    );
  }
  await db(tx).deskView.upsert({
    where: { programId_personId_name: { programId, personId, name } },
    create: { id: uuid(), programId, personId, name, query },
    update: { query },
  });
}

/** Removes one of the viewer's own views; what is not theirs is refused like an absent one. */
export async function removeDeskView(viewer: Viewer, tx: Tx, id: string): Promise<void> {
  if (!isStaff(viewer)) throw notFound('view');
  const { count } = await db(tx).deskView.deleteMany({
    where: { id, programId: viewer.programId, personId: viewer.personId },
  });
  if (count === 0) throw notFound('view');
}
