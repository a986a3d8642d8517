import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { buildInvitation } from '../../../support/build';
import { action, form, LEADS, type OperationRow } from '../row';
import type { Target } from '../world';

// Settings of the program, and many invitations at once.

const table = () => `name,email,role\nRobin Sample,${uuid()}@example.org,coach\n`;
const latest = async (t: Target) => {
  const row = await prisma.checklist.findFirstOrThrow({
    where: { programId: t.program.id },
    orderBy: { number: 'desc' },
  });
  return row.number;
};

export const PROGRAM_ROWS: Record<string, OperationRow> = {
  'action app/people/invitations/actions.ts lookAtTableAction': action('self', LEADS, () => ({
    text: table(),
  })),
  'action app/people/invitations/actions.ts inviteTableAction': action('self', LEADS, () => ({
    batchId: uuid(),
    text: table(),
  })),
  'action app/program/checklist/actions.ts saveChecklistAction': action('self', LEADS, async (t) => ({
    id: uuid(),
    from: await latest(t),
    lines: DEFAULT_CHECKLIST.map((item, index) => (index === 0 ? { ...item, lookFor: uuid() } : item)),
  })),
  'action app/program/actions.ts setProgramZoneAction': action('self', LEADS, () => ({
    timeZone: 'America/Chicago',
  })),
  // The owner of the address that the program wrote to.
  'action app/account/actions.ts declineMyChild': form(
    'self',
    { guardian: 'ok' },
    async (t, as) => ({
      invitationId: (
        await buildInvitation(t.program, t.lead, {
          role: 'guardian',
          email: as?.person.email ?? `${uuid()}@example.org`,
          childName: 'Wren Sample',
          childBirthDate: new Date('2018-03-01'),
          usedAt: new Date(),
        })
      ).id,
    }),
    { isPersonal: true },
  ),
};
