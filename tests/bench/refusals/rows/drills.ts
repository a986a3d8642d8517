import { v7 as uuid } from 'uuid';
import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { buildDrill, buildDrillClip } from '../../../support/build-practice';
import { buildCoach } from '../../../support/build';
import { action, STAFF, type OperationRow } from '../row';

// Actions on the library of drills.

const file = 'action app/program/drills/actions.ts';

export const DRILL_ROWS: Record<string, OperationRow> = {
  [`${file} saveDrillAction`]: action('program', STAFF, async (t) => ({
    drill: DEFAULT_DRILLS[0],
    replaces: (await buildDrill(t.program)).id,
  })),
  [`${file} retireDrillAction`]: action('program', STAFF, async (t) => ({
    drillId: (await buildDrill(t.program)).id,
  })),
  [`${file} addDrillClipAction`]: action('program', STAFF, async (t) => ({
    ...{ clipId: uuid(), drillId: (await buildDrill(t.program)).id },
    ...{ shows: 'nobody', captureRate: null },
  })),
  [`${file} takeAwayDrillClipAction`]: action('program', STAFF, async (t) => {
    const sender = await buildCoach(t.program);
    return { clipId: (await buildDrillClip(await buildDrill(t.program), sender)).id };
  }),
  [`${file} fillDrillsAction`]: action('self', STAFF, () => ({})),
};
