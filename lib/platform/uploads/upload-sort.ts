import type * as z from 'zod';
import type { UploadRefusal } from './refusal';

/** The fields by which a sender names what is sent: a clip, or a part of a breakdown. */
export type UploadSubject = Record<string, string | number>;

/** An upload whose every byte is kept. `type` is the one that its bytes show. */
export interface StoredUpload {
  id: string;
  subject: UploadSubject;
  personId: string;
  storageKey: string;
  sizeBytes: number;
  md5: string;
  type: string;
}

/** One sort of file that can be sent: what it may be, where it lies, who is asked about it. */
export interface UploadSort {
  slug: 'clip' | 'part';
  maxBytes: number;
  /** So many bytes of the beginning decide what it is; a shorter file is seen whole. */
  headBytes: number;
  /** So long a repeat of a finished upload is recognised without asking anybody. */
  rememberedForMs: number;
  /**
   * Whether a sender may make its file anew, in other bytes, while it is not stored: what arrived of the older one goes
   * then. The others are refused under a name that is taken.
   */
  isMadeAnew: boolean;
  /** What a sender names: the subject. */
  subjectSchema: z.ZodType<UploadSubject>;
  /** Reads what is said of the file before its first byte; throws an UploadRefusal. */
  declared(file: { size: number; type: string }): { sizeBytes: number; type: string };
  storageKey(subject: UploadSubject, type: string): string;
  /** The ending of the file's name on the way; never the sender's own name. */
  ending(type: string): string;
  claim(
    request: Request,
    subject: UploadSubject,
    declared: { sizeBytes: number; type: string; print?: string | undefined },
  ): Promise<{ personId: string; isStored: boolean }>;
  /** The type that the first bytes show, when they are of that subject; throws an UploadRefusal. */
  sniff(subject: UploadSubject, head: Uint8Array, declaredType: string): Promise<string>;
  progress(subject: UploadSubject, receivedBytes: number): Promise<void>;
  stored(upload: StoredUpload): Promise<void>;
  refused(subject: UploadSubject, personId: string, refusal: UploadRefusal): Promise<void>;
  /** The refusal in this sort's words. */
  inItsWords(refusal: UploadRefusal): UploadRefusal;
}

/** Every sort of file that this server takes. */
export type UploadSorts = Readonly<Record<UploadSort['slug'], UploadSort>>;

const KEYS = [
  /^clips\/([0-9a-f-]{36})\/original\.[a-z0-9]+$/,
  /^breakdowns\/([0-9a-f-]{36})\/parts\/([0-9a-f-]{36})-(\d{1,4})$/,
  /^(remarks)\/([0-9a-f-]{36})\/part$/,
] as const;

/** One name for an upload, from the key it is kept under: its record, its lock and its growing file go by it; null for other keys. */
export const uploadIdOf = (storageKey: string): string | null => {
  const found = KEYS.map((key) => key.exec(storageKey)).find((parts) => parts !== null);
  return found ? found.slice(1).join('.') : null;
};

/** What such a name looks like: safe as the name of a file. */
export const UPLOAD_ID = /^(?:[0-9a-f-]{36}(?:\.[0-9a-f-]{36}\.\d{1,4})?|remarks\.[0-9a-f-]{36})$/;
