import * as hoursRead from '@/lib/data/hours.read';
import * as hours from '@/lib/data/hours.write';
import * as loads from '@/lib/data/loads.read';
import * as promisesRead from '@/lib/data/promises.read';
import * as promises from '@/lib/data/promises.write';
import * as viewsRead from '@/lib/data/desk-views.read';
import * as views from '@/lib/data/desk-views.write';
import type { PersonId } from '@/lib/domain/shared/ids';
import { officeHours } from '../support/office-hours';
import { done, row, STAFF, type Row, type Target } from '../support/matrix';

// The rows of matrix-rows.ts about hours, promises, hand-overs and views of the desk.

const at = new Date();
const ALWAYS = ['own', 'other', 'elsewhere', 'bare'] as const;
const coachOf = (t: Target) => t.inReview.coachId as PersonId;

export const DESK_ROWS: Record<string, Record<string, Row>> = {
  'hours.read': {
    // Another program's coach may work here too: what they said there is not answered.
    readCoachTerms: row(
      STAFF,
      (v, t, tx) => hoursRead.readCoachTerms(v, coachOf(t), tx),
      ((answer: hoursRead.CoachTerms) => answer.promiseHours !== null) as never,
    ),
  },
  'hours.write': {
    // About the lead's own program and the viewer's own hours, whoever is the target.
    saveProgramHours: row({ lead: ALWAYS }, (v, _t, tx) =>
      done(hours.saveProgramHours(v, tx, officeHours())),
    ),
    saveOwnHours: row({ coach: ALWAYS, lead: ALWAYS }, (v, _t, tx) =>
      done(hours.saveOwnHours(v, tx, { hours: null, promiseHours: 6 }, at)),
    ),
  },
  'loads.read': {
    listLoads: row(STAFF, (v) => loads.listLoads(v, { now: at, endOfDay: at }), ((
      answer: { id: string }[],
      t: Target,
    ) => answer.some(({ id }) => id === coachOf(t))) as never),
  },
  'promises.read': {
    readPromise: row(STAFF, (v, t, tx) => promisesRead.readPromise(v, t.submitted.id, tx)),
  },
  'promises.write': {
    bringPromiseForward: row(STAFF, (v, t, tx) => promises.bringPromiseForward(v, tx, t.submitted.id, at)),
    putPromiseOff: row(STAFF, (v, t, tx) =>
      done(promises.putPromiseOff(v, tx, t.submitted.id, { toAt: at, reason: 'A storm.', at })),
    ),
    noteHandOver: row(STAFF, (v, t, tx) =>
      done(
        promises.noteHandOver(v, tx, t.submitted.id, {
          fromId: null,
          toId: coachOf(t),
          note: 'His third.',
          at,
        }),
      ),
    ),
  },
  'desk-views.read': {
    listDeskViews: row({ coach: ['own', 'bare'] }, (v) => viewsRead.listDeskViews(v), ((
      answer: { id: string }[],
      t: Target,
    ) => answer.some(({ id }) => id === t.deskView.id)) as never),
  },
  'desk-views.write': {
    keepDeskView: row({ coach: ALWAYS, lead: ALWAYS }, (v, _t, tx) =>
      done(views.keepDeskView(v, tx, { name: 'Late ones', query: 'show=all&overdue=yes' })),
    ),
    removeDeskView: row({ coach: ['own', 'bare'] }, (v, t, tx) =>
      done(views.removeDeskView(v, tx, t.deskView.id)),
    ),
  },
};
