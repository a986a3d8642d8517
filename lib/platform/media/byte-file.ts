import { closeSync, fstatSync, openSync, readSync, writeSync } from 'node:fs';

/** A file read and written at places, for looking into containers without loading them. `close` it. */
export interface ByteFile {
  readonly size: number;
  /** The bytes from `at`, fewer at the end of the file. */
  read(at: number, length: number): Buffer;
  write(at: number, bytes: Uint8Array): void;
  close(): void;
}

/** Opens a file for reading, or for reading and writing. Throws the system's error. */
export function openBytes(path: string, access: 'read' | 'write'): ByteFile {
  const handle = openSync(path, access === 'read' ? 'r' : 'r+');
  const { size } = fstatSync(handle);
  return {
    size,
    read(at, length) {
      const bytes = Buffer.alloc(Math.max(0, Math.min(length, size - at)));
      const got = bytes.length > 0 ? readSync(handle, bytes, 0, bytes.length, at) : 0;
      return bytes.subarray(0, got);
    },
    write(at, bytes) {
      writeSync(handle, bytes, 0, bytes.length, at);
    },
    close: () => closeSync(handle),
  };
}
