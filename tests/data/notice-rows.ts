import * as calendarRead from '@/lib/data/calendar.read';
import * as calendar from '@/lib/data/calendar.write';
import * as noticesRead from '@/lib/data/notices.read';
import * as notices from '@/lib/data/notices.write';
import { aNotice } from '../support/build-notices';
import { CASES, row, self, system, type Row } from '../support/matrix';

// The rows of matrix-rows.ts about notices. Each person has a list of their own: that nobody reads another's, not even
// in the same program, is held by tests/workflows/notices/reading.test.ts.

const at = new Date();
/** What staff do for themselves, whoever is looked at. */
const STAFF_EVERYWHERE = { coach: CASES, lead: CASES } as const;

export const NOTICE_ROWS: Record<string, Record<string, Row>> = {
  'notices.read': {
    countUnread: self((v) => noticesRead.countUnread(v, at)),
    listNotices: self((v) => noticesRead.listNotices(v, at)),
    listMailChoices: self(async (v) => [...(await noticesRead.listMailChoices(v))]),
  },
  'calendar.read': {
    hasCalendar: self((v) => calendarRead.hasCalendar(v)),
  },
  'calendar.write': {
    keepCalendarKey: row(STAFF_EVERYWHERE, async (v, _t, tx) => {
      await calendar.keepCalendarKey(v, tx, 'a secret');
      return true;
    }),
  },
  'calendar.system': {
    listPromisedTimes: system('the secret in the address says whose promised times are read'),
  },
  'notices.system': {
    stopMail: system('the signed address in a mail says whose mail of which kind ends'),
    listDigestReaders: system('the worker gathers the daily mails'),
    takeForDigest: system('the worker gathers the daily mails'),
  },
  'consents-ending.system': {
    listConsentsEnding: system('the worker tells guardians of consents that end'),
  },
  'due.system': {
    listProgramsToTell: system('the worker tells what is due, program by program'),
    listStaffDue: system('the worker tells staff of what is due'),
    listPromises: system('the worker tells of promises near and missed'),
    listOverdue: system('the worker tells of swings that have not come'),
    listPaymentsDue: system('the worker tells payers of what is due'),
    readClipSide: system('the worker tells the sender of a clip that it needs another try'),
  },
  'notices.write': {
    keepNotices: self((v, tx) =>
      notices.keepNotices(v, tx, aNotice(), {
        programId: v.programId,
        playerId: null,
        to: [{ personId: v.personId, email: 'robin@example.org', shownFrom: at }],
        at,
      }),
    ),
    markNoticesRead: row({ player: ['own', 'bare'] }, (v, t, tx) =>
      notices.markNoticesRead(v, tx, { id: t.notice.id }, at),
    ),
    keepMailChoices: self((v, tx) => notices.keepMailChoices(v, tx, [{ kind: 'reply', mail: 'daily' }])),
  },
};
