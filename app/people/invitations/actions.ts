'use server';

import * as z from 'zod';
import { callAction } from '@/app/_server/call';
import { ports } from '@/app/_server/ports';
import { MOST_TEXT } from '@/lib/domain/people/invitation-table';
import { inviteTable } from '@/lib/workflows/invite-table';
import { lookAtTable, type LookedAt } from '@/lib/workflows/look-at-table';

const text = z
  .string()
  .max(MOST_TEXT, 'This is too long for a table of people. Is it the right file? Nothing was sent.');

/** What a screen shows of each row. */
const shown = ({ rows, ignored }: LookedAt) => ({
  ignored,
  rows: rows.map(({ written, outcome, words }) => ({ ...written, outcome, words })),
});

/** Says of each row of a table what would become of it. Changes nothing. */
export const lookAtTableAction = callAction('people.change', z.object({ text }), async (viewer, input) =>
  shown(await lookAtTable(ports, viewer, input.text)),
);

/** Invites everybody of a table who can be. */
export const inviteTableAction = callAction(
  'people.invite-table',
  z.object({ batchId: z.uuid(), text }),
  async (viewer, input) => shown(await inviteTable(ports, viewer, input)),
);
