import * as noticesRead from '@/lib/data/notices.read';
import * as notices from '@/lib/data/notices.write';
import { aNotice } from '../support/build-notices';
import { row, self, type Row } from '../support/matrix';

// The rows of matrix-rows.ts about notices. Each person has a list of their own: that nobody reads another's, not even
// in the same program, is held by tests/workflows/notices/reading.test.ts.

const at = new Date();

export const NOTICE_ROWS: Record<string, Record<string, Row>> = {
  'notices.read': {
    countUnread: self((v) => noticesRead.countUnread(v, at)),
    listNotices: self((v) => noticesRead.listNotices(v, at)),
    listMailChoices: self(async (v) => [...(await noticesRead.listMailChoices(v))]),
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
