import { CagepostError } from '@/lib/domain/shared/errors';

/** One channel, -1 to 1. */
export interface Sound {
  readonly samples: Float32Array;
  readonly sampleRate: number;
}

/**
 * The sound of a clip from its first moment; null when it has none or this browser cannot read it. Loads the whole file.
 * Rejects with a CagepostError when it cannot be fetched, with an AbortError when nobody waits any more.
 */
export const readSound = async (url: string, signal: AbortSignal): Promise<Sound | null> => {
  const answer = await fetch(url, { signal });
  if (!answer.ok) {
    throw new CagepostError(
      'unavailable',
      'The clip could not be loaded. Load the page again, then try once more.',
    );
  }
  const bytes = await answer.arrayBuffer();
  signal.throwIfAborted();
  try {
    const sound = await new OfflineAudioContext(1, 1, 48_000).decodeAudioData(bytes);
    return { samples: sound.getChannelData(0), sampleRate: sound.sampleRate };
  } catch {
    // A DOMException without a code of its own stands for "no sound" and "unknown kind of sound" alike.
    return null;
  }
};
