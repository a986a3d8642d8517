import type { Readable } from 'node:stream';
import type { CardNews } from '@/lib/domain/billing/card';

/** Now, as a UTC instant. */
export interface Clock {
  now(): Date;
}

/** Fresh ids (UUID version 7) and unguessable tokens (URL-safe, at least 128 bits). */
export interface Ids {
  uuid(): string;
  token(): string;
}

export interface Log {
  info(facts: Record<string, unknown>, message: string): void;
  warn(facts: Record<string, unknown>, message: string): void;
  error(facts: Record<string, unknown>, message: string): void;
}

/** Sends one message now, or throws. `messageId` makes a repeat recognisable. */
export interface Mailer {
  send(mail: {
    to: string;
    subject: string;
    text: string;
    html: string;
    messageId: string;
    /** Ends this kind of mail for its reader with one click (RFC 8058). */
    stopUrl?: string;
  }): Promise<void>;
}

/** How passwords are kept and checked; slow on purpose. */
export interface Passwords {
  /** An argon2id hash as a PHC string. */
  hash(password: string): Promise<string>;
  /** Whether the password is the one kept. Takes as long when none is kept, and is false then. */
  matches(kept: string | null, password: string): Promise<boolean>;
  /** True for passwords that are tried first: the well-known ones, and those made of the given lower-case words. */
  isGuessable(password: string, words: readonly string[]): boolean;
}

/**
 * Where files lie. Keys look like `clips/<clipId>/review.mp4`; a key is never a public address.
 * Writes are atomic: a key is absent or whole.
 */
export interface Storage {
  put(key: string, from: { path: string } | { bytes: Uint8Array }): Promise<void>;
  /** Bytes `start` to `end` inclusive, or the whole; null when the key is absent. */
  read(key: string, range?: { start: number; end: number }): Promise<Readable | null>;
  size(key: string): Promise<number | null>;
  /** A path that the media engine can open until `release` is called. */
  local(key: string): Promise<{ path: string; release(): Promise<void> }>;
  /** Every key under the prefix, sorted. */
  list(prefix: string): Promise<string[]>;
  /** Removes every key under the prefix; absent is fine. */
  remove(prefix: string): Promise<void>;
}

/** Work that is done once, later, by a worker; asked for inside the transaction of its cause. `tx` comes from lib/data. */
export interface Queue {
  prepareClip(clipId: string, tx?: unknown): Promise<void>;
  drainOutbox(tx?: unknown): Promise<void>;
  /** Puts a kept breakdown together, has its captions made, or makes its voice as AAC. */
  workOnBreakdown(job: BreakdownJob, tx?: unknown): Promise<void>;
  /** Makes the file of an export. */
  renderExport(exportId: string, tx?: unknown): Promise<void>;
  /** Makes the file with everything about somebody. */
  makeCopy(copyId: string, tx?: unknown): Promise<void>;
}

export interface BreakdownJob {
  kind: 'assemble' | 'captions' | 'sound';
  breakdownId: string;
}

/** One entry of an archive: its path in it, its time, whether it is packed already, and its bytes piece by piece. */
export interface ZipEntry {
  name: string;
  at: Date;
  isPacked: boolean;
  body: AsyncIterable<Uint8Array> | Iterable<Uint8Array>;
}

/** A service that listens and writes: audio of that media type in, WebVTT out. Throws `unavailable` when it does not. */
export interface Captioner {
  transcribe(audio: { path: string; type: string }): Promise<string>;
}

/**
 * The payment service, where there is one. `open` answers the address of its card page; asked again for the same id it
 * answers the same page. `read` checks the signature of a message and refuses (`invalid`) what the service did not
 * write; `news` is null where a message tells nothing about a payment.
 */
export interface Cards {
  open(payment: {
    id: string;
    amountMinor: number;
    currency: string;
    label: string;
    email: string | null;
    backTo: string;
  }): Promise<{ sessionId: string; url: string }>;
  read(payload: string, signature: string | null): { id: string; type: string; news: CardNews | null };
}

/** What a workflow may use of the outer world. Tests pass fakes. */
export interface Ports {
  clock: Clock;
  ids: Ids;
  log: Log;
  storage: Storage;
  queue: Queue;
}
