import * as noticesRead from '@/lib/data/notices.read';
import * as notices from '@/lib/data/notices.write';
import { aNotice } from '../support/build-notices';
import { row, self, system, type Row } from '../support/matrix';

// The rows of matrix-rows.ts about notices. Each person has a list of their own: that nobody reads another's, not even
// in the same program, is held by tests/workflows/notices/reading.test.ts.

const at = new Date();

export const NOTICE_ROWS: Record<string, Record<string, Row>> = {
  'notices.read': {
    countUnread: self((v) => noticesRead.countUnread(v, at)),
    listNotices: self((v) => noticesRead.listNotices(v, at)),
    listMailChoices: self(async (v) => [...(await noticesRead.listMailChoices(v))]),
  },
  'notices.system': {
    stopMail: system('the signed address in a mail says whose mail of which kind ends'),
    listDigestReaders: system('the worker gathers the daily mails'),
    takeForDigest: system('the worker gathers the daily mails'),
  },
  'due.system': {
    listProgramsToTell: system('the worker tells what is due, program by program'),
    listStaffDue: system('the worker tells staff of what is due'),
    listPromises: system('the worker tells of promises near and missed'),
    listOverdue: system('the worker tells of swings that have not come'),
    listPaymentsDue: system('the worker tells payers of what is due'),
    listConsentsEnding: system('the worker tells guardians of consents that end'),
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
