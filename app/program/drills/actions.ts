'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { drillSchema, type DrillId } from '@/lib/domain/drills/drill';
import { anId } from '@/lib/domain/shared/ids';
import { fillDrills } from '@/lib/workflows/fill-drills';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { saveDrill } from '@/lib/workflows/save-drill';

export const saveDrillAction = callAction(
  'review.write',
  z.object({ drill: drillSchema, replaces: anId<DrillId>().nullable() }),
  (viewer, input) => saveDrill(ports, viewer, input),
);

export const retireDrillAction = callAction(
  'review.write',
  z.object({ drillId: anId<DrillId>() }),
  (viewer, input) => retireDrill(ports, viewer, input.drillId),
);

export const fillDrillsAction = callAction('review.write', z.object({}), (viewer) =>
  fillDrills(ports, viewer),
);
