import { sessionCookie, openSession } from '@/lib/auth/session';
import { authSettings } from '@/lib/auth/settings';
import { asSystem } from '@/lib/auth/system';
import { liveSession } from '@/lib/auth/viewer';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { readClip } from '@/lib/data/clips.read';
import { readRemark } from '@/lib/data/remarks.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import { anId, type BreakdownId, type ClipId, type PersonId, type RemarkId } from '@/lib/domain/shared/ids';
import { env } from '@/lib/platform/env';
import { log } from '@/lib/platform/log';
import { chooseStorage } from '@/lib/platform/storage';
import {
  DEFAULT_LIMITS,
  type PartClaims,
  type PartSubject,
  type UploadClaims,
} from '@/lib/platform/uploads/claims';
import { serveMedia, type MediaSettings } from '@/lib/platform/uploads/serve-media';
import { createUploads, type Uploads } from '@/lib/platform/uploads/uploads';
import { claimPart } from '@/lib/workflows/claim-part';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { finishPart } from '@/lib/workflows/finish-part';
import { finishUpload, refuseUpload } from '@/lib/workflows/finish-upload';
import { filesOf } from './breakdown-url';
import { mediaKey } from './clip-url';
import { ports } from './ports';
import { assertSameOrigin } from './same-origin';

const SWEEP_EVERY_MS = 5 * 60 * 1000;

/** The text of a cookie in a request's header; none of ours holds a character that needs decoding. */
const cookieOf = (request: Request, name: string): string | undefined =>
  (request.headers.get('cookie') ?? '')
    .split(/;\s*/)
    .find((pair) => pair.startsWith(`${name}=`))
    ?.slice(name.length + 1);

// Not from ./viewer: that file reads the cookies of `app/`, and these requests come through `pages/api` too.
const viewerOf = async (request: Request): Promise<Viewer | null> => {
  const { secret, isSecure } = authSettings();
  const now = new Date();
  const claims = await openSession(cookieOf(request, sessionCookie(isSecure).name), secret, now);
  return (claims && (await liveSession(claims, now)))?.viewer ?? null;
};

const personOf = async (request: Request) => (await viewerOf(request))?.personId ?? null;

const system = () => asSystem('worker');

const senderOf = async (request: Request): Promise<Viewer> => {
  const viewer = await viewerOf(request);
  if (viewer) return viewer;
  throw new CagepostError('not-signed-in', 'Please sign in again. What was sent so far is kept.');
};

const claims: UploadClaims = {
  async claim(request, clipId, declared) {
    assertSameOrigin(request.headers);
    const viewer = await senderOf(request);
    const { isStored } = await claimUpload(viewer, clipId as ClipId, declared);
    return { personId: viewer.personId, isStored };
  },
  stored: ({ clipId, personId, storageKey, sizeBytes, md5 }) =>
    finishUpload(ports, system(), clipId as ClipId, {
      senderId: personId as PersonId,
      ...{ storageKey, sizeBytes, md5 },
    }),
  refused: ({ clipId, personId, fault }) =>
    refuseUpload(system(), clipId as ClipId, { senderId: personId as PersonId, fault }),
};

const named = (part: PartSubject) =>
  'remarkId' in part
    ? { remarkId: part.remarkId as RemarkId }
    : { ...part, breakdownId: part.breakdownId as BreakdownId };

const parts: PartClaims = {
  async claim(request, part, { sizeBytes, print }) {
    assertSameOrigin(request.headers);
    const viewer = await senderOf(request);
    const { isStored } = await claimPart(ports, viewer, named(part), sizeBytes, print);
    return { personId: viewer.personId, isStored };
  },
  stored: ({ part, personId, ...facts }) =>
    finishPart({ clock: ports.clock, storage: ports.storage }, system(), named(part), {
      senderId: personId as PersonId,
      ...facts,
    }),
};

const sweep = (uploads: Uploads) =>
  uploads.sweep().then(
    ({ completed, abandoned }) => {
      if (completed.length + abandoned.length > 0)
        log.info({ completed, abandoned }, 'uploads were put right');
    },
    (error: unknown) => log.error({ err: error }, 'sweep of uploads failed'),
  );

const begin = (): Uploads => {
  const uploads = createUploads(
    {
      dataFolder: env.DATA_DIR,
      isShared: env.SHARED_DATA_DIR,
      secret: env.NEXTAUTH_SECRET,
      publicOrigin: new URL(env.NEXTAUTH_URL).origin,
      limits: { ...DEFAULT_LIMITS, maxBytes: env.CLIP_MAX_BYTES },
      ...{ claims, parts, personOf, log },
    },
    chooseStorage({ dataFolder: env.DATA_DIR, uploadthingToken: env.UPLOADTHING_TOKEN }),
  );
  void sweep(uploads);
  setInterval(() => void sweep(uploads), SWEEP_EVERY_MS).unref();
  return uploads;
};

// One in the process: `app/` and `pages/api` are bundled apart, and two would not know of each other's writers.
const kept = globalThis as unknown as { cagepostUploads?: Uploads };

/**
 * The uploads of this server. The first call also puts right what a killed server left, and again every five
 * minutes; `instrumentation.ts` makes it at the start.
 */
export const uploads = (): Uploads => (kept.cagepostUploads ??= begin());

const MAY_READ: MediaSettings['mayRead'] = {
  async clips(request, address) {
    const id = anId<ClipId>().safeParse(address.id);
    const viewer = await viewerOf(request);
    return id.success && viewer !== null && (await readClip(viewer, id.data)) !== null;
  },
  async breakdowns(request, { id: text, file }) {
    const id = anId<BreakdownId>().safeParse(text);
    const viewer = await viewerOf(request);
    const breakdown = id.success && viewer ? await readBreakdown(viewer, id.data) : null;
    return breakdown !== null && filesOf(breakdown).includes(file);
  },
  async remarks(request, address) {
    const id = anId<RemarkId>().safeParse(address.id);
    const viewer = await viewerOf(request);
    return id.success && viewer !== null && (await readRemark(viewer, id.data)) !== null;
  },
};

let media: ReturnType<typeof serveMedia> | undefined;

/** Answers `/api/media/…` for the person whom the address was signed for. */
export const answerMedia: ReturnType<typeof serveMedia> = (request, response) => {
  media ??= serveMedia({ key: mediaKey(), storage: ports.storage, personOf, mayRead: MAY_READ, log });
  return media(request, response);
};
