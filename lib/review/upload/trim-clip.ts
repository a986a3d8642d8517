import {
  BufferTarget,
  Conversion,
  MkvOutputFormat,
  MovOutputFormat,
  Mp4OutputFormat,
  Output,
  WebMOutputFormat,
  type OutputFormat,
} from 'mediabunny';
import { acceptedType, type AcceptedType } from '@/lib/domain/clips/accepted-types';
import { CagepostError } from '@/lib/domain/shared/errors';
import { openClip } from './inspect-file';

const FORMAT_OF = {
  'video/mp4': () => new Mp4OutputFormat({ fastStart: 'in-memory' }),
  'video/quicktime': () => new MovOutputFormat({ fastStart: 'in-memory' }),
  'video/webm': () => new WebMOutputFormat(),
  'video/x-matroska': () => new MkvOutputFormat(),
} as const satisfies Record<AcceptedType, () => OutputFormat>;

const cannot = (cause?: unknown) =>
  new CagepostError(
    'unsupported',
    'This video cannot be trimmed here. Send it as it is, or trim it in your phone’s own album first.',
    {},
    { cause },
  );

/**
 * Cuts a clip to the given seconds without encoding anything again: the frames stay bit by bit what the camera made,
 * also in formats that this browser cannot decode. A cut can only begin at a key picture: MP4 and MOV hide the frames
 * between it and `fromSeconds` by their edit list, WebM and MKV begin a little early. No frame of what was asked for
 * is lost. File metadata, location included, is left behind.
 */
export const trimClip = async (
  file: File,
  fromSeconds: number,
  toSeconds: number,
  signal?: AbortSignal,
  onProgress?: (share: number) => void,
): Promise<File> => {
  signal?.throwIfAborted();
  const input = openClip(file);
  try {
    const type = acceptedType(await input.getMimeType()) ?? 'video/mp4';
    const target = new BufferTarget();
    const conversion = await Conversion.init({
      input,
      output: new Output({ format: FORMAT_OF[type](), target }),
      tracks: 'primary',
      trim: { start: fromSeconds, end: toSeconds },
      copy: { mode: 'forced', boundaryPolicy: 'expand', shiftTolerance: Infinity },
      tags: {},
      showWarnings: false,
    });
    if (!conversion.isValid || !conversion.utilizedTracks.some((track) => track.isVideoTrack()))
      throw cannot();
    if (onProgress) conversion.onProgress = onProgress;
    const cancel = () => void conversion.cancel();
    signal?.addEventListener('abort', cancel);
    try {
      await conversion.execute();
    } catch (error) {
      signal?.throwIfAborted();
      throw cannot(error);
    } finally {
      signal?.removeEventListener('abort', cancel);
    }
    if (!target.buffer) throw cannot();
    return new File([target.buffer], file.name, { type, lastModified: file.lastModified });
  } finally {
    input.dispose();
  }
};
