import type { Going } from './send-types';

/** What the form needs of whatever carries clips: one owner, many clips, each addressed by its id. */
export interface ClipSender {
  /** Every clip that is known here, by id. A new map whenever something moved. */
  getSnapshot(): ReadonlyMap<string, Going>;
  subscribe(listener: () => void): () => void;
  /** Takes the file over and starts; from then on it survives a reload. The same clip again changes nothing. */
  add(clip: { clipId: string; lessonId: string | null; file: File }): Promise<void>;
  /** The file while this browser still has it. */
  fileOf(clipId: string): Promise<Blob | null>;
  pause(clipId: string): void;
  resume(clipId: string): void;
  /** With a file (picked again) it goes on from where the other side is. */
  retry(clipId: string, file?: File): void;
  /** Stops the clip and forgets its file here. */
  remove(clipId: string): Promise<void>;
}

/** What a look into a picked file told, or why it is not taken. */
export type Look =
  | {
      ok: true;
      seconds: number;
      fileRate: number | null;
      isRateOpen: boolean;
      isTooLong: boolean;
      /** Rate and lens as the phone wrote them into the file. */
      captureRate: number | null;
      focal35mm: number | null;
    }
  | { ok: false; reason: string };

/** Everything the form asks of the browser's media and upload engine. */
export interface ClipTools {
  sender: ClipSender;
  look(file: File): Promise<Look>;
  /** The part from start to end in seconds, without re-encoding; throws an error with a sentence for people. */
  cut(file: Blob, name: string, startSeconds: number, endSeconds: number): Promise<File>;
}
