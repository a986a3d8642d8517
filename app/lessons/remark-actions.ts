'use server';

import * as z from 'zod';
import { remarkOnPage } from '@/app/_server/breakdowns-on-page';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { listRemarks } from '@/lib/data/remarks.read';
import { MAX_BREAKDOWN_MS } from '@/lib/domain/breakdowns/event';
import { anId, type RemarkId } from '@/lib/domain/shared/ids';
import { keepRemark } from '@/lib/workflows/keep-remark';
import { removeRemark } from '@/lib/workflows/remove-remark';
import { renameRemark } from '@/lib/workflows/rename-remark';

const seriesId = anId<RemarkId>();
const title = z
  .string()
  .trim()
  .min(1, 'Give the remark a title: it is how you find it again.')
  .max(80, 'Keep the title under 80 characters.');

export const keepRemarkAction = callAction(
  'review.write',
  z.object({
    id: anId<RemarkId>(),
    seriesId,
    title,
    text: z.string().trim().max(1000, 'Keep the remark under 1,000 characters.'),
    isSpoken: z.boolean(),
    durationMs: z.int().nonnegative().max(MAX_BREAKDOWN_MS).nullable(),
  }),
  (viewer, input) => keepRemark(ports, viewer, input),
);

export const renameRemarkAction = callAction('review.write', z.object({ seriesId, title }), renameRemark);

export const removeRemarkAction = callAction('review.write', z.object({ seriesId }), (viewer, input) =>
  removeRemark(ports, viewer, input.seriesId),
);

export const listRemarksAction = callAction('review.write', z.object({}), async (viewer) => {
  const now = ports.clock.now();
  return { remarks: (await listRemarks(viewer)).rows.map((remark) => remarkOnPage(viewer, remark, now)) };
});
