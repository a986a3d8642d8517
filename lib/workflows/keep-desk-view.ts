import { keepDeskView as keep } from '@/lib/data/desk-views.write';
import { transaction } from '@/lib/data/transaction';
import { deskAddress, parseDeskQuery } from '@/lib/domain/desk/desk-query';
import type { Viewer } from '@/lib/domain/people/viewer';

/** Gives what stands in the desk's address a name; what the address does not mean is left out. Kept for the viewer alone. */
export const keepDeskView = (
  viewer: Viewer,
  { name, query }: { name: string; query: string },
): Promise<void> =>
  transaction(viewer, (tx) =>
    keep(viewer, tx, {
      name,
      query: deskAddress(parseDeskQuery(Object.fromEntries(new URLSearchParams(query)))),
    }),
  );
