'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { drillSchema, type DrillId } from '@/lib/domain/drills/drill';
import { CLIP_SHOWS } from '@/lib/domain/drills/drill-clip';
import { anId, type ClipId } from '@/lib/domain/shared/ids';
import { addDrillClip } from '@/lib/workflows/add-drill-clip';
import { fillDrills } from '@/lib/workflows/fill-drills';
import { retireDrill } from '@/lib/workflows/retire-drill';
import { saveDrill } from '@/lib/workflows/save-drill';
import { takeAwayDrillClip } from '@/lib/workflows/take-away-drill-clip';

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

export const addDrillClipAction = callAction(
  'review.write',
  z.object({
    clipId: anId<ClipId>(),
    drillId: anId<DrillId>(),
    shows: z.enum(CLIP_SHOWS, 'Say who is in it.'),
    captureRate: z.number().positive().max(2000).nullable(),
  }),
  (viewer, input) => addDrillClip(ports, viewer, input),
);

export const takeAwayDrillClipAction = callAction(
  'review.write',
  z.object({ clipId: anId<ClipId>() }),
  (viewer, input) => takeAwayDrillClip(ports, viewer, input.clipId),
);

export const fillDrillsAction = callAction('review.write', z.object({}), (viewer) =>
  fillDrills(ports, viewer),
);
