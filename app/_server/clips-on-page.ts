import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import type { ClipFacts } from '@/lib/domain/lessons/lesson';
import type { Viewer } from '@/lib/domain/people/viewer';
import { clipUrl } from './clip-url';

/** Clips with addresses that this viewer may fetch them under. */
export const clipsOnPage = (viewer: Viewer, clips: readonly ClipFacts[], now: Date): ClipOnPage[] =>
  clips.map(({ position: _position, sizeBytes: _size, ...clip }) => ({
    ...clip,
    video: clipUrl(viewer, clip.id, 'review.mp4', now),
    table: clipUrl(viewer, clip.id, 'frames.json', now),
    poster: clipUrl(viewer, clip.id, 'poster.jpg', now),
  }));
