import { v7 as uuid } from 'uuid';
import * as checklistsRead from '@/lib/data/checklists.read';
import * as checklists from '@/lib/data/checklists.write';
import * as table from '@/lib/data/invitation-table.read';
import { DEFAULT_CHECKLIST } from '@/lib/domain/checkpoints/default-checklist';
import { row, self, type Row } from '../support/matrix';

// The rows of `matrix-rows.ts` about a program's settings. A lead's settings are those of the lead's own program,
// whoever's things are asked for.

const at = new Date('2026-06-01T12:00:00Z');
const EVERY = ['own', 'other', 'bare', 'elsewhere'] as const;
const ANY_LEAD = { lead: EVERY } as const;
const ANY_STAFF = { coach: EVERY, lead: EVERY } as const;

export const PROGRAM_ROWS: Record<string, Record<string, Row>> = {
  'invitation-table.read': {
    readTableStanding: row({ lead: ['own', 'other', 'bare'] }, async (v, t, tx) => {
      const asked = { emails: [t.player.email ?? ''], childNames: [t.player.name], now: at };
      const { members, players } = await table.readTableStanding(v, asked, tx);
      return [...members, ...players];
    }),
    listKnownInvitations: row({ lead: ['own', 'other', 'bare'] }, async (v, t, tx) => [
      ...(await table.listKnownInvitations(v, [t.invitation.id], tx)),
    ]),
  },
  'checklists.read': {
    listChecklistVersions: row(
      ANY_STAFF,
      async (v) => (await checklistsRead.listChecklistVersions(v, { before: null })).versions,
    ),
    readChecklistVersion: row(ANY_STAFF, (v) => checklistsRead.readChecklistVersion(v, 1)),
    listRetiredItems: self((v) => checklistsRead.listRetiredItems(v)),
  },
  'checklists.write': {
    lockChecklist: row(ANY_LEAD, (v, _t, tx) => checklists.lockChecklist(v, tx, uuid())),
    addChecklistVersion: row(ANY_LEAD, (v, _t, tx) =>
      checklists.addChecklistVersion(v, tx, { id: uuid(), number: 99, items: DEFAULT_CHECKLIST, at }),
    ),
  },
};
