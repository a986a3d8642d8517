import { ALL, FAMILY, LEADS, page, STAFF, type OperationRow } from '../row';

// Pages. Who does not work here is led away from what staff use; what is not one's own is as if it were not there.

const open = (path: string) => page('open', { ...ALL }, () => path, { outside: 'ok' });
const staffOnly = (path: string) => page('self', STAFF, () => path, { refused: 'away' });
const leadsOnly = (path: string) => page('self', LEADS, () => path, { refused: 'away' });

export const PAGE_ROWS: Record<string, OperationRow> = {
  'page app/page.tsx': page('self', {}, () => '/', { refused: 'away' }),
  // Who is signed in has no need of it.
  'page app/(public)/sign-in/page.tsx': page('open', {}, () => '/sign-in', {
    refused: 'away',
    outside: 'ok',
  }),
  'page app/(public)/sign-in/link/page.tsx': open('/sign-in/link'),
  'page app/(public)/demo/page.tsx': open('/demo'),
  'page app/(public)/invite/[token]/page.tsx': open('/invite/none'),
  'page app/account/page.tsx': page('self', ALL, () => '/account'),
  'page app/people/page.tsx': staffOnly('/people'),
  'page app/desk/page.tsx': staffOnly('/desk'),
  'page app/players/page.tsx': staffOnly('/players'),
  'page app/players/[playerId]/page.tsx': page('target', ALL, (t) => `/players/${t.player.id}`),
  'page app/players/[playerId]/care/page.tsx': page(
    'target',
    { ...FAMILY, ...LEADS },
    (t) => `/players/${t.player.id}/care`,
  ),
  'page app/concerns/page.tsx': leadsOnly('/concerns'),
  'page app/concerns/new/page.tsx': page('self', ALL, () => '/concerns/new'),
  'page app/compare/page.tsx': page('target', ALL, (t) => `/compare?a=${t.standing.clip.id}`),
  'page app/lessons/page.tsx': page('self', FAMILY, () => '/lessons', { refused: 'away' }),
  'page app/lessons/new/page.tsx': page('target', FAMILY, (t) => `/lessons/new?player=${t.player.id}`),
  'page app/lessons/[lessonId]/page.tsx': page('target', ALL, (t) => `/lessons/${t.standing.returned.id}`),
  // The player's side is led to the lesson, whosever it is: there it is asked again.
  'page app/lessons/[lessonId]/bench/page.tsx': page(
    'target',
    STAFF,
    (t) => `/lessons/${t.standing.inReview.id}/bench`,
    { refusedByKind: { self: 'away', minor: 'away', guardian: 'away' } },
  ),
  'page app/lessons/[lessonId]/captions/[breakdownId]/page.tsx': page(
    'target',
    STAFF,
    (t) => `/lessons/${t.standing.returned.id}/captions/${t.standing.given.id}`,
  ),
  'page app/program/drills/page.tsx': staffOnly('/program/drills'),
  'page app/practice/page.tsx': page('target', FAMILY, (t) => `/practice?player=${t.player.id}`),
  'page app/remarks/page.tsx': staffOnly('/remarks'),
  // The payer's page: who sends for nobody has nothing to pay.
  'page app/billing/page.tsx': page('self', FAMILY, () => '/billing', { refused: 'away' }),
  'page app/program/billing/page.tsx': leadsOnly('/program/billing'),
  'page app/program/page.tsx': staffOnly('/program'),
  'page app/program/checklist/page.tsx': staffOnly('/program/checklist'),
  'page app/program/hours/page.tsx': staffOnly('/program/hours'),
  'page app/program/retention/page.tsx': staffOnly('/program/retention'),
  'page app/desk/split/page.tsx': leadsOnly('/desk/split'),
  'page app/desk/hours/page.tsx': staffOnly('/desk/hours'),
  'page app/people/invitations/page.tsx': leadsOnly('/people/invitations'),
  // Who speaks for a player: a grown one, a guardian of a minor, and leads.
  'page app/everything/[personId]/page.tsx': page(
    'target',
    { self: 'ok', guardian: 'ok', ...LEADS },
    (t) => `/everything/${t.player.id}`,
  ),
};
