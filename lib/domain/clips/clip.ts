import type { Brand } from '../shared/brand';

export const CLIP_STATES = ['expected', 'uploading', 'uploaded', 'preparing', 'ready', 'failed'] as const;
export type ClipState = (typeof CLIP_STATES)[number];

export const CLIP_VIEWS = ['open_side', 'behind', 'front', 'back'] as const;
export type ClipView = (typeof CLIP_VIEWS)[number];

/** A frame of a clip by display order, 0 to frameCount - 1. Never a time. */
export type FrameIndex = Brand<number, 'FrameIndex'>;

/** Why a clip was refused or could not be prepared. Closed; each has its sentence in `clip-faults.ts`. */
export const CLIP_FAULTS = [
  'not-a-video',
  'no-picture', // sound only
  'empty',
  'cut-off',
  'too-long',
  'too-large',
  'type-mismatch', // declared as something else than its bytes
  'unreadable', // kept, but the engine cannot read it
  'out-of-memory',
  'out-of-time',
  'disk-full',
  'frames-lost', // frames out did not equal frames in
  'interrupted',
] as const;
export type ClipFault = (typeof CLIP_FAULTS)[number];

/** At most this many clips a lesson. */
export const MAX_CLIPS = 4;
