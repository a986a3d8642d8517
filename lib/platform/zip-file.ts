import { open, type FileHandle } from 'node:fs/promises';
import { Zip, ZipDeflate, ZipPassThrough } from 'fflate';
import type { ZipEntry } from '@/lib/workflows/ports';

async function writeAll(handle: FileHandle, bytes: Uint8Array): Promise<void> {
  for (let at = 0; at < bytes.length;) {
    const { bytesWritten } = await handle.write(bytes, at, bytes.length - at);
    at += bytesWritten;
  }
}

/**
 * Writes a ZIP archive (names in UTF-8, no ZIP64: keep it under 4 GiB) to a new file, entry by entry, without holding
 * more than a piece of one in memory. What is packed already (video, voice, PDF) is stored as it is. Answers its size in
 * bytes. Throws what reading an entry or writing the file throws.
 */
export async function writeZip(file: string, entries: AsyncIterable<ZipEntry>): Promise<number> {
  const handle = await open(file, 'wx', 0o600);
  const waiting: Uint8Array[] = [];
  let written = 0;
  let failure: Error | null = null;
  const zip = new Zip((error, bytes) => {
    if (error) failure = error;
    else waiting.push(bytes);
  });
  const flush = async () => {
    if (failure) throw failure;
    for (const bytes of waiting.splice(0)) {
      await writeAll(handle, bytes);
      written += bytes.length;
    }
  };
  try {
    for await (const { name, at, isPacked, body } of entries) {
      const entry = isPacked ? new ZipPassThrough(name) : new ZipDeflate(name, { level: 6 });
      entry.mtime = at;
      zip.add(entry);
      for await (const bytes of body) {
        entry.push(bytes);
        await flush();
      }
      entry.push(new Uint8Array(0), true);
      await flush();
    }
    zip.end();
    await flush();
    await handle.sync();
    return written;
  } finally {
    await handle.close();
  }
}
