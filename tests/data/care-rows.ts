import { v7 as uuid } from 'uuid';
import * as auditRead from '@/lib/data/audit.read';
import * as clearancesRead from '@/lib/data/clearances.read';
import * as clearances from '@/lib/data/clearances.write';
import * as concernsRead from '@/lib/data/concerns.read';
import * as concerns from '@/lib/data/concerns.write';
import * as consentsRead from '@/lib/data/consents.read';
import * as consents from '@/lib/data/consents.write';
import type { Day } from '@/lib/domain/people/age';
import {
  done,
  LEADS,
  PLAYERS_SIDE_AND_STAFF,
  row,
  self,
  STAFF,
  system,
  type Row,
  type Target,
} from '../support/matrix';

// The rows of matrix-rows.ts about consents, checks and concerns.

const at = new Date();
const agreed = (t: Target) => ({
  playerId: t.player.id,
  scope: 'share' as const,
  version: '2026-11',
  method: 'account-page',
});
/** The player of the matrix is a minor: only a verified guardian speaks for them. */
const SPEAKS = { guardian: ['own'] } as const;

export const CARE_ROWS: Record<string, Record<string, Row>> = {
  'ages.system': {
    listNearAges: system('the worker looks for birthdays after which other rules hold'),
    wasTold: system('the worker tells each of them once'),
  },
  'audit.read': {
    listShown: row({ player: ['own', 'bare'], guardian: ['own'], lead: STAFF.lead }, (v, t) =>
      auditRead.listShown(v, t.player.id).then(({ rows }) => rows),
    ),
  },
  'clearances.read': {
    // A coach sees their own checks only: those of the coach of `own` and `bare` are.
    listClearances: row(
      { coach: ['own', 'bare'], lead: STAFF.lead },
      (v) => clearancesRead.listClearances(v),
      ((answer: clearancesRead.ClearancesOf, t: Target) => answer.has(t.inReview.coachId as never)) as never,
    ),
    readClearances: row(STAFF, (v, t, tx) =>
      clearancesRead.readClearances(v, tx, t.inReview.coachId as never),
    ),
  },
  'clearances.write': {
    recordClearance: row(LEADS, (v, t, tx) =>
      done(
        clearances.recordClearance(v, tx, {
          id: uuid(),
          personId: t.inReview.coachId as never,
          kind: 'background-check',
          issuedOn: '2026-01-01' as Day,
          expiresOn: '2027-01-01' as Day,
        }),
      ),
    ),
    revokeClearances: row(LEADS, (v, t, tx) =>
      clearances.revokeClearances(
        v,
        tx,
        { personId: t.inReview.coachId as never, kind: 'background-check' },
        at,
      ),
    ),
  },
  'concerns.read': {
    listConcerns: row(LEADS, async (v) => (await concernsRead.listConcerns(v, 'open')).rows, ((
      answer: concernsRead.ConcernCard[],
      t: Target,
    ) => answer.some((one) => one.id === t.concern.id)) as never),
    countConcerns: self((v) => concernsRead.countConcerns(v)),
    listStaffNames: self((v) => concernsRead.listStaffNames(v)),
  },
  'concerns.write': {
    keepConcern: row(PLAYERS_SIDE_AND_STAFF, (v, t, tx) =>
      concerns.keepConcern(
        v,
        tx,
        { id: uuid(), aboutId: null, playerId: t.player.id, body: 'Something is wrong.', isNamed: false },
        at,
      ),
    ),
    listConcernReaders: self((v, tx) => concerns.listConcernReaders(v, tx, null)),
    closeConcern: row(LEADS, (v, t, tx) =>
      concerns.closeConcern(v, tx, { id: t.concern.id, outcome: 'Talked to both.' }, at),
    ),
  },
  'consents.read': {
    listConsents: row(
      // The bare player has a named guardian only, and so no consent to read.
      { player: ['own'], guardian: ['own'], lead: ['own', 'other'] },
      (v, t) => consentsRead.listConsents(v, t.player.id),
    ),
  },
  'consents.write': {
    giveConsent: row(SPEAKS, (v, t, tx) => done(consents.giveConsent(v, tx, agreed(t), at))),
    withdrawConsent: row(SPEAKS, (v, t, tx) => done(consents.withdrawConsent(v, tx, agreed(t), at))),
  },
};
