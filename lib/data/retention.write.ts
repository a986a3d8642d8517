import { isLead, type Viewer } from '@/lib/domain/people/viewer';
import type { Deadlines } from '@/lib/domain/privacy/retention';
import { notFound } from '@/lib/domain/shared/errors';
import { db, type Tx } from './client';

/** Sets how long the viewer's program keeps things, from the coming night on. Leads only. */
export async function saveDeadlines(viewer: Viewer, tx: Tx, deadlines: Deadlines): Promise<void> {
  if (!isLead(viewer)) throw notFound('program');
  await db(tx).program.update({ where: { id: viewer.programId }, data: { retention: { ...deadlines } } });
}
