/**
 * Every address of the site and what somebody without a session gets from it. `page` redirects to the sign-in, `api`
 * answers 401 (or 404 where the address itself is the secret), `open` is for everybody, and says why that is right.
 * `withoutKey` is the answer to an address whose secret is wrong. `staff` pages send players and guardians away. `path` is an example; `ID` stands for an id that nobody has.
 */
export type RouteRow =
  | { kind: 'page'; path: string; staff?: true }
  | { kind: 'api'; path: string; method: 'GET' | 'PUT' | 'POST' | 'HEAD' }
  | { kind: 'open'; path: string; why: string; withoutKey?: 404 };

export const ROUTES: Record<string, RouteRow> = {
  'app/page.tsx': { kind: 'page', path: '/' },
  'app/(public)/sign-in/page.tsx': { kind: 'open', path: '/sign-in', why: 'the way in' },
  'app/(public)/sign-in/link/page.tsx': {
    kind: 'open',
    path: '/sign-in/link',
    why: 'holds a button; the link is checked when it is pressed',
  },
  'app/(public)/demo/page.tsx': {
    kind: 'open',
    path: '/demo',
    why: 'invented people; absent where the demo door is closed',
  },
  'app/(public)/invite/[token]/page.tsx': {
    kind: 'open',
    path: '/invite/none',
    why: 'the token in the address is the key',
  },
  'app/(public)/stop-mail/[token]/page.tsx': {
    kind: 'open',
    path: '/stop-mail/none',
    why: 'the signature in the address is the key; it tells a kind of mail and nobody’s name',
    withoutKey: 404,
  },
  'app/api/calendar/[key]/route.ts': {
    kind: 'open',
    path: '/api/calendar/none.ics',
    why: 'read by calendar programs: the secret in the address is the key',
    withoutKey: 404,
  },
  'app/api/notices/stop/[token]/route.ts': {
    kind: 'open',
    path: '/api/notices/stop/none',
    why: 'one click in a mail program (RFC 8058): the signature in the address is the key',
  },
  'app/account/page.tsx': { kind: 'page', path: '/account' },
  'app/people/page.tsx': { kind: 'page', path: '/people', staff: true },
  'app/people/invitations/page.tsx': { kind: 'page', path: '/people/invitations', staff: true },
  'app/desk/page.tsx': { kind: 'page', path: '/desk', staff: true },
  'app/players/page.tsx': { kind: 'page', path: '/players', staff: true },
  'app/players/[playerId]/page.tsx': { kind: 'page', path: '/players/ID' },
  'app/players/[playerId]/care/page.tsx': { kind: 'page', path: '/players/ID/care' },
  'app/concerns/page.tsx': { kind: 'page', path: '/concerns' },
  'app/concerns/new/page.tsx': { kind: 'page', path: '/concerns/new' },
  'app/compare/page.tsx': { kind: 'page', path: '/compare?a=ID' },
  'app/lessons/page.tsx': { kind: 'page', path: '/lessons' },
  'app/lessons/new/page.tsx': { kind: 'page', path: '/lessons/new' },
  'app/lessons/[lessonId]/page.tsx': { kind: 'page', path: '/lessons/ID' },
  'app/lessons/[lessonId]/bench/page.tsx': { kind: 'page', path: '/lessons/ID/bench', staff: true },
  'app/lessons/[lessonId]/captions/[breakdownId]/page.tsx': {
    kind: 'page',
    path: '/lessons/ID/captions/ID',
  },
  'app/program/checklist/page.tsx': { kind: 'page', path: '/program/checklist', staff: true },
  'app/program/drills/page.tsx': { kind: 'page', path: '/program/drills', staff: true },
  'app/practice/page.tsx': { kind: 'page', path: '/practice' },
  'app/api/practice/check-ins/route.ts': { kind: 'api', path: '/api/practice/check-ins', method: 'POST' },
  'app/remarks/page.tsx': { kind: 'page', path: '/remarks', staff: true },
  'app/notices/page.tsx': { kind: 'page', path: '/notices' },
  'app/notices/choices/page.tsx': { kind: 'page', path: '/notices/choices' },
  'app/api/notices/read/route.ts': { kind: 'api', path: '/api/notices/read', method: 'POST' },
  'app/billing/page.tsx': { kind: 'page', path: '/billing' },
  'app/program/billing/page.tsx': { kind: 'page', path: '/program/billing', staff: true },
  'app/program/retention/page.tsx': { kind: 'page', path: '/program/retention', staff: true },
  'app/everything/[personId]/page.tsx': { kind: 'page', path: '/everything/ID' },
  'app/api/copies/[copyId]/route.ts': { kind: 'api', path: '/api/copies/ID', method: 'GET' },
  'app/program/hours/page.tsx': { kind: 'page', path: '/program/hours', staff: true },
  'app/desk/split/page.tsx': { kind: 'page', path: '/desk/split', staff: true },
  'app/desk/hours/page.tsx': { kind: 'page', path: '/desk/hours', staff: true },
  'app/program/page.tsx': { kind: 'page', path: '/program', staff: true },
  'app/api/auth/[...nextauth]/route.ts': {
    kind: 'open',
    path: '/api/auth/session',
    why: 'tells nobody about anybody else',
  },
  'app/api/health/route.ts': {
    kind: 'open',
    path: '/api/health',
    why: 'says which parts are up, nothing of people',
  },
  'app/api/lessons/[lessonId]/sheet/route.ts': { kind: 'api', path: '/api/lessons/ID/sheet', method: 'GET' },
  'app/api/lessons/[lessonId]/measures/route.ts': {
    kind: 'api',
    path: '/api/lessons/ID/measures',
    method: 'GET',
  },
  'app/api/lessons/[lessonId]/clips/route.ts': { kind: 'api', path: '/api/lessons/ID/clips', method: 'GET' },
  'app/api/players/[playerId]/progress/route.ts': {
    kind: 'api',
    path: '/api/players/ID/progress',
    method: 'GET',
  },
  'app/api/clips/[clipId]/address/route.ts': { kind: 'api', path: '/api/clips/ID/address', method: 'GET' },
  'app/api/lessons/[lessonId]/breakdowns/route.ts': {
    kind: 'api',
    path: '/api/lessons/ID/breakdowns',
    method: 'GET',
  },
  'app/api/breakdowns/[breakdownId]/route.ts': { kind: 'api', path: '/api/breakdowns/ID', method: 'GET' },
  'app/api/breakdowns/[breakdownId]/watched/route.ts': {
    kind: 'api',
    path: '/api/breakdowns/ID/watched',
    method: 'POST',
  },
  'app/api/breakdowns/[breakdownId]/captions.vtt/route.ts': {
    kind: 'api',
    path: '/api/breakdowns/ID/captions.vtt',
    method: 'GET',
  },
  'app/api/breakdowns/[breakdownId]/voice.m4a/route.ts': {
    kind: 'api',
    path: '/api/breakdowns/ID/voice.m4a',
    method: 'GET',
  },
  'app/api/remarks/[remarkId]/route.ts': { kind: 'api', path: '/api/remarks/ID', method: 'GET' },
  'app/api/documents/[documentId]/route.ts': { kind: 'api', path: '/api/documents/ID', method: 'GET' },
  'app/api/ledger/route.ts': { kind: 'api', path: '/api/ledger', method: 'GET' },
  // The signature of the payment service is the key; absent where cards are off.
  'app/api/cards/route.ts': { kind: 'api', path: '/api/cards', method: 'POST' },
  'app/api/uploadthing/route.ts': { kind: 'api', path: '/api/uploadthing', method: 'POST' },
  'pages/api/media/[...path].ts': { kind: 'api', path: '/api/media/clips/ID/review.mp4', method: 'GET' },
  'pages/api/ingest/[key].ts': { kind: 'api', path: '/api/ingest/none', method: 'PUT' },
};
