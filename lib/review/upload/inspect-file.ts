import { BlobSource, Input, MATROSKA, MP4, QTFF, WEBM } from 'mediabunny';
import { acceptedType, type AcceptedType } from '@/lib/domain/clips/accepted-types';
import type { ClipFault } from '@/lib/domain/clips/clip';
import { readFocalHint } from './focal-hint';
import { readRateHint, type RateHint } from './rate-hint';

export interface InspectLimits {
  maxBytes: number;
  maxSeconds: number;
}

/** What can be told of a picked file before a byte is sent. */
export interface InspectedFile {
  /** By the file's own bytes; null when it is none of the accepted ones. */
  type: AcceptedType | null;
  durationS: number | null;
  /** As shown, in pixels, with rotation. */
  width: number | null;
  height: number | null;
  hasVideo: boolean;
  hasSound: boolean;
  /** Whether this browser can show it now; if not, the picture appears once it is prepared. */
  isPlayable: boolean;
  /** Pictures a second as the file plays them, from its first hundred packets; null when they do not tell. */
  fileRate: number | null;
  rateHint: RateHint | null;
  /** The lens as the phone wrote it, in millimetres of a 35 mm camera. */
  focal35mm: number | null;
  /** A reason to refuse it right here; null when it may be sent. */
  fault: ClipFault | null;
}

const UNKNOWN: InspectedFile = {
  type: null,
  durationS: null,
  width: null,
  height: null,
  hasVideo: false,
  hasSound: false,
  isPlayable: false,
  fileRate: null,
  rateHint: null,
  focal35mm: null,
  fault: 'not-a-video',
};

/** The containers that clips come in. */
export const openClip = (file: Blob): Input =>
  new Input({ source: new BlobSource(file), formats: [MP4, QTFF, WEBM, MATROSKA] });

const read = async (input: Input, limits: InspectLimits): Promise<InspectedFile> => {
  const type = acceptedType(await input.getMimeType());
  const [video, sound] = await Promise.all([input.getPrimaryVideoTrack(), input.getPrimaryAudioTrack()]);
  const rateHint = await readRateHint(input).catch(() => null);
  const focal35mm = await readFocalHint(input).catch(() => null);
  const facts = { ...UNKNOWN, type, hasSound: sound !== null, rateHint, focal35mm };
  if (!video) return { ...facts, fault: sound ? 'no-picture' : 'not-a-video' };
  const durationS = await input.computeDuration();
  const isPlayable = await video.canDecode().catch(() => false);
  const stats = await video.computePacketStats(100).catch(() => null);
  return {
    ...facts,
    durationS,
    width: video.displayWidth,
    height: video.displayHeight,
    hasVideo: true,
    isPlayable,
    fileRate: stats && Number.isFinite(stats.averagePacketRate) ? stats.averagePacketRate : null,
    fault: durationS > limits.maxSeconds ? 'too-long' : null,
  };
};

/**
 * Looks into a picked file without reading all of it. What is surely useless (empty, too large, no picture, too long)
 * gets its `fault`; whatever this browser merely cannot read is left to the server. Never throws.
 */
export const inspectFile = async (file: File, limits: InspectLimits): Promise<InspectedFile> => {
  if (file.size === 0) return { ...UNKNOWN, fault: 'empty' };
  if (file.size > limits.maxBytes) return { ...UNKNOWN, type: acceptedType(file.type), fault: 'too-large' };
  const input = openClip(file);
  try {
    if (!(await input.canRead()))
      return { ...UNKNOWN, fault: file.type.startsWith('audio/') ? 'no-picture' : 'not-a-video' };
    return await read(input, limits);
  } catch {
    return { ...UNKNOWN, type: acceptedType(file.type), fault: null };
  } finally {
    input.dispose();
  }
};
