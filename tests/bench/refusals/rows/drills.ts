import { DEFAULT_DRILLS } from '@/lib/domain/drills/default-library';
import { buildDrill } from '../../../support/build-practice';
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
  [`${file} fillDrillsAction`]: action('self', STAFF, () => ({})),
};
