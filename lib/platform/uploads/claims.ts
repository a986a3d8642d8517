import type { AcceptedType } from '@/lib/domain/clips/accepted-types';
import type { ClipFault } from '@/lib/domain/clips/clip';

/** What a sender says of a file before its first byte. */
export interface DeclaredFile {
  sizeBytes: number;
  type: AcceptedType;
}

/** A clip whose every byte is kept: the type is the one its bytes show, `md5` is hexadecimal. */
export interface StoredClip {
  clipId: string;
  personId: string;
  storageKey: string;
  sizeBytes: number;
  md5: string;
  type: AcceptedType;
}

/**
 * How uploads ask the rest of the program. Every call may come more than once for the same clip: after a lost
 * network, a reload, a killed server or two tabs at work; all of them must answer a repeat as they did at first.
 */
export interface UploadClaims {
  /**
   * May this request send this clip? Answers who it is, or throws a CagepostError (`not-signed-in`, `not-found`,
   * `wrong-state` …). It is asked again for each new try, also for a clip that has failed, or that is stored: then
   * the sender hears so and sends nothing.
   */
  claim(
    request: Request,
    clipId: string,
    declared: DeclaredFile,
  ): Promise<{ personId: string; isStored: boolean }>;
  /** How far it is; told about every 16 MiB. */
  progress?(facts: { clipId: string; receivedBytes: number }): Promise<void>;
  /**
   * Every byte is kept. Marks the clip and asks for its preparing in one transaction. `not-found` and `wrong-state`
   * mean that nobody wants it any more: the file is removed. Any other error is tried again later.
   */
  stored(clip: StoredClip): Promise<void>;
  /** It was turned away for good and nothing of it is kept. */
  refused(facts: { clipId: string; personId: string; fault: ClipFault }): Promise<void>;
}

/** What names a part of a take, or the one part of a spoken remark. */
export type PartSubject = { breakdownId: string; segmentId: string; number: number } | { remarkId: string };

/** A part whose every byte is kept and whose head could be read; `md5` is hexadecimal. */
export interface StoredPart {
  part: PartSubject;
  personId: string;
  storageKey: string;
  sizeBytes: number;
  md5: string;
}

/** The same as `UploadClaims` for parts of breakdowns and for spoken remarks; repeats are answered as at first. */
export interface PartClaims {
  /**
   * May this request send this part? Throws a CagepostError when not; `conflict` when another part is stored there.
   * `print` is that of what it says, whichever version wrote its file.
   */
  claim(
    request: Request,
    part: PartSubject,
    declared: { sizeBytes: number; print?: string | undefined },
  ): Promise<{ personId: string; isStored: boolean }>;
  /** Every byte is kept. `not-found`, `wrong-state` and `safeguarding` mean that it has to go again. */
  stored(part: StoredPart): Promise<void>;
}

/** Who sends a request, as the session says; null when nobody is signed in. */
export type PersonOf = (request: Request) => Promise<string | null>;

export interface UploadLimits {
  maxBytes: number;
  /** Bytes of the disk that uploads never touch. */
  reserveBytes: number;
}

export const DEFAULT_LIMITS: UploadLimits = { maxBytes: 1024 ** 3, reserveBytes: 512 * 1024 ** 2 };
