import { env } from '@/lib/platform/env';
import { stopAddress } from '@/lib/platform/stop-address';
import { buildNotice } from '../../../support/build-notices';
import { ALL, form, json, page, route, type OperationRow } from '../row';
import type { Target } from '../world';

// Notices, and mails that end by the address in them.

const stop = (t: Target) =>
  new URL(stopAddress(env.NEXTAUTH_SECRET, env.NEXTAUTH_URL, { personId: t.player.id, kind: 'reply' }))
    .pathname;
const tokenOf = (t: Target) => stop(t).split('/').at(-1) ?? '';
/** The signature in the address is the key, whoever holds it. */
const KEY = { outside: 'ok' } as const;

export const NOTICE_ROWS: Record<string, OperationRow> = {
  'page app/notices/page.tsx': page('self', ALL, () => '/notices'),
  'page app/notices/choices/page.tsx': page('self', ALL, () => '/notices/choices'),
  'page app/(public)/stop-mail/[token]/page.tsx': page('open', ALL, (t) => `/stop-mail/${tokenOf(t)}`, KEY),
  'action app/notices/actions.ts markAllRead': form('self', ALL, () => ({})),
  'action app/notices/actions.ts chooseMails': form('self', ALL, () => ({ reply: 'daily' })),
  'action app/(public)/stop-mail/actions.ts stopMails': form(
    'open',
    ALL,
    (t) => ({ token: tokenOf(t) }),
    KEY,
  ),
  // Somebody else's notice is none of one's own: nothing is marked.
  'POST app/api/notices/read/route.ts': route(
    'target',
    { self: 'ok', minor: 'ok' },
    async (t) => json('/api/notices/read', { id: (await buildNotice(t.program, t.player)).id }),
    { refused: 'nothing' },
  ),
  // A look at the link ends nothing: it leads to a page with a button.
  'GET app/api/notices/stop/[token]/route.ts': route('open', ALL, stop, KEY),
  'POST app/api/notices/stop/[token]/route.ts': route('open', ALL, stop, { ...KEY, hasNoOrigin: true }),
};
