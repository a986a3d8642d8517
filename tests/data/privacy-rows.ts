import { v7 as uuid } from 'uuid';
import * as holdsRead from '@/lib/data/holds.read';
import * as holds from '@/lib/data/holds.write';
import * as retentionRead from '@/lib/data/retention.read';
import * as retention from '@/lib/data/retention.write';
import * as subjectsRead from '@/lib/data/subjects.read';
import * as subjects from '@/lib/data/subjects.write';
import { DEFAULT_DEADLINES } from '@/lib/domain/privacy/retention';
import { done, LEADS, row, self, system, type Row } from '../support/matrix';

// The rows of matrix-rows.ts about deadlines, legal holds, copies of everything and erasure.

const at = new Date();
/** The player of the matrix is a minor: a verified guardian speaks for them, and a lead of the program. */
const SPEAKS = { guardian: ['own'], lead: LEADS.lead } as const;

export const PRIVACY_ROWS: Record<string, Record<string, Row>> = {
  'erasure.system': {
    listDueErasures: system('the worker looks each night for erasures whose time has come'),
    eraseRequested: system('the worker does what somebody asked for who may speak for the person'),
  },
  'everything.system': {
    gatherEverything: system(
      'the worker makes the copy that somebody asked for who may speak for the person',
    ),
  },
  'holds.read': {
    listHolds: row(LEADS, (v, t) => holdsRead.listHolds(v, t.player.id)),
    isHeld: row({ player: ['own', 'bare'], guardian: ['own'], lead: LEADS.lead }, (v, t, tx) =>
      holdsRead.isHeld(v, t.player.id, tx),
    ),
  },
  'holds.write': {
    placeHold: row(LEADS, (v, t, tx) =>
      done(holds.placeHold(v, tx, { id: uuid(), playerId: t.player.id, reason: 'A court asked.' }, at)),
    ),
    endHold: row(LEADS, (v, t, tx) => holds.endHold(v, tx, t.hold.id, at)),
  },
  'personal-exports.system': {
    beginPersonalExport: system('the worker takes a job that asking for a copy asked for'),
    finishPersonalExport: system('the worker tells what it made'),
    failPersonalExport: system('the worker tells why it could not'),
    listUnmadePersonalExports: system('the worker asks at its start what was left undone'),
  },
  'retention-media.system': {
    clearMedia: system('the worker deletes each night what is due'),
  },
  'retention-rows.system': {
    clearRows: system('the worker deletes each night what is due'),
    clearEverywhere: system('the worker deletes each night what is due and belongs to no program'),
  },
  'retention.read': {
    readDeadlines: self((v) => retentionRead.readDeadlines(v)),
    listNights: self((v) => retentionRead.listNights(v)),
  },
  'retention.system': {
    listDeadlines: system('the worker asks each night what is due where'),
    noteNight: system('the worker keeps its journal'),
    endNight: system('the worker keeps its journal'),
  },
  'retention.write': {
    saveDeadlines: row({ lead: LEADS.lead }, (v, t, tx) =>
      // It is about the viewer's own program alone; a target elsewhere is not theirs to change.
      v.programId === t.program.id
        ? done(retention.saveDeadlines(v, tx, DEFAULT_DEADLINES))
        : Promise.resolve(false),
    ),
  },
  'stored-files.system': {
    listLetGo: system('the worker removes files whose rows have let go of them'),
    noteGone: system('the worker tells that they are gone'),
    unwantedOf: system('the worker holds the storage against the rows'),
    ripeStrays: system('the worker waits a day before a file without a row goes'),
  },
  'subjects.read': {
    readSubject: row(SPEAKS, (v, t, tx) => subjectsRead.readSubject(v, t.player.id, tx)),
    readErasure: row(SPEAKS, (v, t) => subjectsRead.readErasure(v, t.player.id)),
    // The copies of the matrix were asked for by the guardian (of `bare`: who is not confirmed).
    listPersonalExports: row({ guardian: ['own'] }, (v, t) =>
      subjectsRead.listPersonalExports(v, t.player.id),
    ),
    readReadyExport: row({ guardian: ['own'] }, (v, t) => subjectsRead.readReadyExport(v, t.copy.id, at)),
  },
  'subjects.write': {
    askErasure: row(SPEAKS, (v, t, tx) =>
      done(subjects.askErasure(v, tx, { id: uuid(), personId: t.player.id }, { at, dueAt: at })),
    ),
    cancelErasure: row(SPEAKS, (v, t, tx) => subjects.cancelErasure(v, tx, t.erasure.id, at)),
    askPersonalExport: row(SPEAKS, (v, t, tx) =>
      subjects.askPersonalExport(v, tx, { id: uuid(), personId: t.player.id }, at),
    ),
    listLeadsToTell: self((v, tx) => subjects.listLeadsToTell(v, tx)),
  },
};
