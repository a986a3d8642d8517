import { sessionCookie, openSession } from '@/lib/auth/session';
import { authSettings } from '@/lib/auth/settings';
import { asSystem } from '@/lib/auth/system';
import { liveSession } from '@/lib/auth/viewer';
import { readClip } from '@/lib/data/clips.read';
import type { Viewer } from '@/lib/domain/people/viewer';
import { CagepostError } from '@/lib/domain/shared/errors';
import { anId, type ClipId, type PersonId } from '@/lib/domain/shared/ids';
import { env } from '@/lib/platform/env';
import { log } from '@/lib/platform/log';
import { chooseStorage } from '@/lib/platform/storage';
import { DEFAULT_LIMITS, type UploadClaims } from '@/lib/platform/uploads/claims';
import { serveMedia } from '@/lib/platform/uploads/serve-media';
import { createUploads, type Uploads } from '@/lib/platform/uploads/uploads';
import { claimUpload } from '@/lib/workflows/claim-upload';
import { finishUpload, refuseUpload } from '@/lib/workflows/finish-upload';
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

const claims: UploadClaims = {
  async claim(request, clipId, declared) {
    assertSameOrigin(request.headers);
    const viewer = await viewerOf(request);
    if (!viewer)
      throw new CagepostError('not-signed-in', 'Please sign in again. What was sent so far is kept.');
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
      secret: env.NEXTAUTH_SECRET,
      publicOrigin: new URL(env.NEXTAUTH_URL).origin,
      limits: { ...DEFAULT_LIMITS, maxBytes: env.CLIP_MAX_BYTES },
      ...{ claims, personOf, log },
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

const mayRead = async (request: Request, clipId: string): Promise<boolean> => {
  const id = anId<ClipId>().safeParse(clipId);
  const viewer = await viewerOf(request);
  return id.success && viewer !== null && (await readClip(viewer, id.data)) !== null;
};

let media: ReturnType<typeof serveMedia> | undefined;

/** Answers `/api/media/…` for the person whom the address was signed for. */
export const answerMedia: ReturnType<typeof serveMedia> = (request, response) => {
  media ??= serveMedia({ key: mediaKey(), storage: ports.storage, personOf, mayRead, log });
  return media(request, response);
};
