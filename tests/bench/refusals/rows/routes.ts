import { v7 as uuid } from 'uuid';
import { prisma } from '@/lib/data/client';
import { SAFETY_VERSION } from '@/lib/domain/drills/practice';
import { emptySheet } from '@/lib/domain/review/sheet';
import { buildRemark } from '../../../support/build-breakdown';
import { ALL, FAMILY, json, LEADS, route, STAFF, type OperationRow, type Outcome } from '../row';
import { buildAnnounced, claimOf, uploadBody } from '../stand';
import type { Relation, Target } from '../world';
import { inReviewOf } from './lessons';

// Routes of app/api and pages/api. What is somebody else's is a 404, like what is not there.

const lesson = (t: Target) => t.standing.returned.id;
const breakdown = (t: Target) => `/api/breakdowns/${t.standing.given.id}`;
/** Who may see it gets an empty list: there is none. */
const SEES_NONE: Partial<Record<Relation, Outcome>> = Object.fromEntries(
  Object.keys(ALL).map((relation) => [relation, 'nothing']),
);
/** Lists answer everybody; who may not see the lesson gets them empty. */
const EMPTY = { refused: 'nothing' } as const;
/** The claimer alone fills a clip; a clip belongs to who announced it, here the player. */
const CLAIMER = { self: 'ok', minor: 'ok' } as const;
const today = () => new Date().toISOString().slice(0, 10);

export const ROUTE_ROWS: Record<string, OperationRow> = {
  // One's own id and nothing else. Who has left every program still has an account.
  'GET app/api/auth/[...nextauth]/route.ts': route('self', ALL, () => '/api/auth/session', {
    outside: 'nothing',
    except: { left: { adult: 'ok' } },
  }),
  // Without the token of the form: the library leads back to the sign-in, and nobody is signed in.
  'POST app/api/auth/[...nextauth]/route.ts': route(
    'open',
    {},
    () => json('/api/auth/callback/password', { email: 'a@example.org', password: 'x', json: 'true' }),
    { refused: 'ok', outside: 'ok', hasNoOrigin: true },
  ),
  'GET app/api/health/route.ts': route('open', {}, () => '/api/health', {
    refused: 'unavailable',
    outside: 'unavailable',
  }),
  'GET app/api/lessons/[lessonId]/sheet/route.ts': route(
    'target',
    STAFF,
    (t) => `/api/lessons/${t.standing.inReview.id}/sheet`,
  ),
  'PUT app/api/lessons/[lessonId]/sheet/route.ts': route('target', STAFF, async (t) =>
    json(`/api/lessons/${(await inReviewOf(t)).id}/sheet`, { baseRevision: 1, sheet: emptySheet() }),
  ),
  // Nothing is measured on these lessons: whoever may see them gets an empty list.
  'GET app/api/lessons/[lessonId]/measures/route.ts': route(
    'target',
    SEES_NONE,
    (t) => `/api/lessons/${lesson(t)}/measures`,
  ),
  'GET app/api/lessons/[lessonId]/clips/route.ts': route(
    'target',
    ALL,
    (t) => `/api/lessons/${lesson(t)}/clips`,
    EMPTY,
  ),
  'GET app/api/lessons/[lessonId]/breakdowns/route.ts': route(
    'target',
    ALL,
    (t) => `/api/lessons/${lesson(t)}/breakdowns`,
    EMPTY,
  ),
  'GET app/api/players/[playerId]/progress/route.ts': route(
    'target',
    ALL,
    (t) => `/api/players/${t.player.id}/progress`,
  ),
  'GET app/api/clips/[clipId]/address/route.ts': route(
    'target',
    ALL,
    (t) => `/api/clips/${t.standing.clip.id}/address`,
  ),
  'GET app/api/breakdowns/[breakdownId]/route.ts': route('target', ALL, breakdown),
  'POST app/api/breakdowns/[breakdownId]/watched/route.ts': route('target', ALL, (t) =>
    json(`${breakdown(t)}/watched`, { positionMs: 100, isDone: false }),
  ),
  'GET app/api/breakdowns/[breakdownId]/captions.vtt/route.ts': route(
    'target',
    ALL,
    (t) => `${breakdown(t)}/captions.vtt`,
  ),
  // For who may export: for a minor a guardian and staff.
  'GET app/api/breakdowns/[breakdownId]/voice.m4a/route.ts': route(
    'target',
    { self: 'ok', guardian: 'ok', ...STAFF },
    (t) => `${breakdown(t)}/voice.m4a`,
  ),
  'GET app/api/remarks/[remarkId]/route.ts': route(
    'target',
    { 'its-coach': 'ok' },
    async (t) => `/api/remarks/${(await buildRemark(t.program, t.coach)).id}`,
  ),
  'GET app/api/documents/[documentId]/route.ts': route(
    'target',
    { ...FAMILY, ...LEADS },
    (t) => `/api/documents/${t.standing.document.id}`,
  ),
  'GET app/api/ledger/route.ts': route('self', LEADS, () => '/api/ledger?from=2026-01&to=2026-12'),
  // No payment service here: the address is absent. With one, its signature is the key (tests/workflows).
  'POST app/api/cards/route.ts': route(
    'open',
    {},
    () => json('/api/cards', { type: 'checkout.session.completed' }),
    {
      outside: 'not-found',
      hasNoOrigin: true,
    },
  ),
  'POST app/api/practice/check-ins/route.ts': route(
    'target',
    FAMILY,
    async (t) => {
      await prisma.practiceSafety.createMany({
        data: { playerId: t.player.id, version: SAFETY_VERSION, byId: t.player.id },
        skipDuplicates: true,
      });
      return json('/api/practice/check-ins', {
        id: uuid(),
        assignmentId: t.standing.assignment.id,
        said: {
          day: today(),
          setsDone: 2,
          repsDone: 16,
          feel: null,
          note: '',
          painLevel: 0,
          painWhere: null,
        },
      });
    },
    // Under 13 a guardian checks in.
    { except: { child: { child: 'safeguarding' } } },
  ),
  'POST app/api/uploadthing/route.ts': route('target', CLAIMER, async (t) =>
    claimOf((await buildAnnounced(t)).id),
  ),
  'GET pages/api/media/[...path].ts': route(
    'target',
    ALL,
    (t, as, stand) => stand.mediaPath('clips', t.standing.clip.id, 'review.mp4', as),
    { isPersonal: true },
  ),
  'HEAD pages/api/media/[...path].ts': route(
    'target',
    ALL,
    (t, as, stand) => stand.mediaPath('clips', t.standing.clip.id, 'review.mp4', as),
    { isPersonal: true },
  ),
  'HEAD pages/api/ingest/[key].ts': route('target', CLAIMER, (t, _as, stand) => stand.uploadPath(t)),
  'PUT pages/api/ingest/[key].ts': route(
    'target',
    CLAIMER,
    async (t, _as, stand) => ({
      path: await stand.uploadPath(t),
      body: uploadBody(),
      headers: { range: 'bytes=0-' },
    }),
    // The signed address was given to one person's page; where the bytes come from is not looked at.
    { hasNoOrigin: true },
  ),
};
