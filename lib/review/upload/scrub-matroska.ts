import { applyEdits, readBytes, type FileEdit } from './file-edits';

// Element ids of RFC 9559.
const SEGMENT = 0x18538067;
const TAGS = 0x1254c367;
const ATTACHMENTS = 0x1941a469;
const VOID = 0xec;

interface Element {
  id: number;
  headerBytes: number;
  /** Null: unknown, as a browser's own recorder leaves it. */
  contentBytes: number | null;
}

/** Length in bytes of a variable-size integer by its first byte (RFC 8794, section 4); 9 when it is none. */
const widthOf = (first: number) => Math.clz32(first) - 23;

/** Reads an element's head out of its first 12 bytes, or null. */
const elementAt = (view: DataView): Element | null => {
  if (view.byteLength < 2) return null;
  const idBytes = widthOf(view.getUint8(0));
  if (idBytes > 4 || view.byteLength < idBytes + 1) return null;
  let id = 0;
  for (let i = 0; i < idBytes; i++) id = id * 256 + view.getUint8(i);
  const sizeBytes = widthOf(view.getUint8(idBytes));
  if (sizeBytes > 8 || view.byteLength < idBytes + sizeBytes) return null;
  let size = view.getUint8(idBytes) & (0xff >> sizeBytes);
  let isUnknown = size === 0xff >> sizeBytes;
  for (let i = 1; i < sizeBytes; i++) {
    const byte = view.getUint8(idBytes + i);
    isUnknown &&= byte === 0xff;
    size = size * 256 + byte;
  }
  return { id, headerBytes: idBytes + sizeBytes, contentBytes: isUnknown ? null : size };
};

/** A Void element that fills exactly so many bytes (at least 2). */
const voidOf = (length: number): Uint8Array<ArrayBuffer> => {
  const bytes = new Uint8Array(length);
  bytes[0] = VOID;
  if (length < 10) {
    bytes[1] = 0x80 | (length - 2);
    return bytes;
  }
  const view = new DataView(bytes.buffer);
  view.setBigUint64(1, BigInt(length - 9));
  view.setUint8(1, 0x01);
  return bytes;
};

/**
 * Takes tags and attachments (where a place may be noted) out of a WebM or MKV. A recording of unknown length is
 * read up to its first cluster: what the browser's recorder writes has no tags behind it.
 */
export const scrubMatroska = async (file: File): Promise<{ file: File; hits: number }> => {
  const edits: FileEdit[] = [];
  for (let at = 0; at < file.size;) {
    const element = elementAt(await readBytes(file, at, 12));
    if (!element) break;
    const { id, headerBytes, contentBytes } = element;
    if (id === SEGMENT) {
      at += headerBytes;
      continue;
    }
    if (contentBytes === null || at + headerBytes + contentBytes > file.size) break;
    const length = headerBytes + contentBytes;
    if (id === TAGS || id === ATTACHMENTS) edits.push({ start: at, bytes: voidOf(length) });
    at += length;
  }
  return { file: edits.length > 0 ? applyEdits(file, edits) : file, hits: edits.length };
};
