import { removeDeskView as remove } from '@/lib/data/desk-views.write';
import { transaction } from '@/lib/data/transaction';
import type { Viewer } from '@/lib/domain/people/viewer';

/** Removes one of the viewer's own named views of the desk; the lessons in it stay where they are. */
export const removeDeskView = (viewer: Viewer, id: string): Promise<void> =>
  transaction(viewer, (tx) => remove(viewer, tx, id));
