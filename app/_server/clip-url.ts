import type { Viewer } from '@/lib/domain/people/viewer';
import type { ClipId } from '@/lib/domain/shared/ids';
import { env } from '@/lib/platform/env';
import { signMediaUrl } from '@/lib/platform/uploads/media-url';
import { deriveKey } from '@/lib/platform/uploads/signatures';

/** The files of a prepared clip that screens show. */
export type ClipFile = 'review.mp4' | 'poster.jpg' | 'strip.jpg' | 'strip.json' | 'frames.json';

/** The key under which addresses of clips are signed. */
export const mediaKey = (): string => deriveKey(env.NEXTAUTH_SECRET, 'media');

/** A same-origin address under which this viewer may read that file of a clip for some hours. */
export const clipUrl = (viewer: Viewer, clipId: ClipId, file: ClipFile, now: Date): string =>
  signMediaUrl(mediaKey(), { folder: 'clips', id: clipId, file, personId: viewer.personId, now });
