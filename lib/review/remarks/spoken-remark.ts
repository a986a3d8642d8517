import { readPart, writePart } from '@/lib/domain/breakdowns/parse-part';
import { PART_TYPE } from '@/lib/domain/breakdowns/timeline';
import { CagepostError } from '@/lib/domain/shared/errors';
import type { Mic } from '../record/mic';
import { troubleOf, type SendTrouble } from '../record/part-sender';
import { type Interruption, sentenceOfInterruption } from '../record/record-faults';
import { startVoiceTake } from '../record/recorder';
import { PATIENCE, sendWatched } from '../upload/patience';
import { printOf } from '../upload/send-clip';
import { createSendFile } from '../upload/send-file';

/** A remark is short: what takes longer is a breakdown. In milliseconds. */
export const MAX_REMARK_MS = 90_000;

/** A spoken remark as it came from the recorder. */
export interface SpokenRemark {
  voice: Uint8Array<ArrayBuffer>;
  voiceType: string;
  durationMs: number;
}

export interface SpeakingRemark {
  nowMs(): number;
  /** Ends it and gives what was said; rejects with a CagepostError when that is nothing. */
  stop(): Promise<SpokenRemark>;
}

/**
 * Begins to record over an open microphone. What interrupts it (a call, the tab hidden, the microphone gone) ends it
 * and is told with its sentence; what was said until then is kept by `stop`.
 */
export function speakRemark(mic: Mic, onInterrupted: (sentence: string) => void): SpeakingRemark {
  const slices: Promise<ArrayBuffer>[] = [];
  const take = startVoiceTake(mic, {
    onSlice: ({ voice }) => {
      if (voice) slices.push(voice);
    },
    onInterruption: (why: Interruption) => onInterrupted(sentenceOfInterruption(why)),
  });
  return {
    nowMs: take.nowMs,
    stop: async () => {
      const durationMs = Math.min(await take.stop(), MAX_REMARK_MS);
      const voice = new Uint8Array(await new Blob(await Promise.all(slices)).arrayBuffer());
      if (voice.byteLength === 0 || durationMs === 0)
        throw new CagepostError('invalid', 'Nothing was heard. Check the microphone and speak it once more.');
      return { voice, voiceType: take.voiceType, durationMs };
    },
  };
}

/** The file of a spoken remark: one part without events, under the remark's own id. */
export const fileOfRemark = (remarkId: string, remark: SpokenRemark): File => {
  const head = {
    version: 2 as const,
    segmentId: remarkId,
    number: 0,
    voiceType: remark.voiceType,
    fromMs: 0,
    toMs: remark.durationMs,
    events: [],
  };
  return new File([writePart(head, remark.voice)], `${remarkId}.part`, { type: PART_TYPE });
};

/** Sends the voice of a remark that the shelf knows already. Rejects with a CagepostError that says what to do. */
export async function sendRemark(remarkId: string, remark: SpokenRemark, signal: AbortSignal): Promise<void> {
  const file = fileOfRemark(remarkId, remark);
  const print = await printOf(file);
  const send = createSendFile<{ remarkId: string; print?: string }>('part');
  const options = { signal, onProgress: () => undefined };
  let faults: readonly string[] = [];
  try {
    await sendWatched(
      async (part, trying) => {
        const outcome = await send(part, { remarkId, ...(print && { print }) }, trying);
        faults = outcome.faults;
        if (!outcome.isStored) throw new Error(`The voice was not stored: ${faults.join()}`);
      },
      file,
      options,
      PATIENCE,
    );
  } catch (error) {
    if (signal.aborted) throw error;
    throw new CagepostError('unavailable', REMARK_SENTENCE[troubleOf(faults)], { faults }, { cause: error });
  }
}

const REMARK_SENTENCE: Readonly<Record<SendTrouble, string>> = {
  network:
    'The connection is lost. The voice is kept on this device and sent when you come back to your shelf.',
  room: 'There is no room on our side just now. The voice is kept on this device; send it again later.',
  'signed-out': 'You are signed out. The voice is kept on this device. Sign in again, and send it.',
  'paused-by': 'The server takes no voice just now. It is kept on this device.',
  'not-yours': 'This remark is not on your shelf any more. Its voice is still on this device.',
  broken:
    'The server could not read this voice and did not take it. It is still on this device: hear it, and speak it once more.',
};

/** The voice in the file of a spoken remark, to be heard. Rejects with a CagepostError. */
export async function fetchRemark(address: string, signal: AbortSignal): Promise<Blob> {
  const response = await fetch(address, { signal });
  if (!response.ok)
    throw new CagepostError('unavailable', 'This remark could not be loaded. Load the page again.');
  const { head, voice } = readPart(new Uint8Array(await response.arrayBuffer()));
  return new Blob([new Uint8Array(voice)], { type: head.voiceType });
}
