import type { ByteFile } from './byte-file';

// Elements of WebM and MKV files: EBML (RFC 8794) and Matroska (RFC 9559).

export const EBML_IDS = {
  header: 0x1a45dfa3,
  segment: 0x18538067,
  tags: 0x1254c367,
  attachments: 0x1941a469,
};

export interface Element {
  id: number;
  start: number;
  body: number;
  /** First byte after the element; null when its size is unknown, as live recorders write it. */
  end: number | null;
}

function variableInt(
  bytes: Buffer,
  at: number,
  keepsMarker: boolean,
): { value: number; length: number } | null {
  const first = bytes[at];
  if (!first) return null;
  const length = Math.clz32(first) - 23;
  if (at + length > bytes.length) return null;
  let value = keepsMarker ? first : first & ((1 << (8 - length)) - 1);
  let isAllOnes = (first & ((1 << (8 - length)) - 1)) === (1 << (8 - length)) - 1;
  for (let i = 1; i < length; i++) {
    const byte = bytes[at + i] ?? 0;
    value = value * 256 + byte;
    isAllOnes &&= byte === 0xff;
  }
  return { value: !keepsMarker && isAllOnes ? -1 : value, length };
}

/** Elements between two places, in order, up to the first of unknown size. Stops where the bytes are none any more. */
export function* elementsIn(file: ByteFile, from: number, to: number): Generator<Element> {
  let at = from;
  while (at + 2 <= to) {
    const head = file.read(at, 12);
    const id = variableInt(head, 0, true);
    const size = id && variableInt(head, id.length, false);
    if (!id || !size || id.length > 4) return;
    const body = at + id.length + size.length;
    if (size.value === -1) {
      yield { id: id.value, start: at, body, end: null };
      return;
    }
    yield { id: id.value, start: at, body, end: body + size.value };
    at = body + size.value;
  }
}

/** True when an element of known size reaches beyond the end of the file. A live recording cannot tell. */
export function isMatroskaCutOff(file: ByteFile): boolean {
  for (const element of elementsIn(file, 0, file.size)) {
    if (element.end !== null && element.end > file.size) return true;
    if (element.id !== EBML_IDS.segment) continue;
    for (const child of elementsIn(file, element.body, element.end ?? file.size))
      if (child.end !== null && child.end > file.size) return true;
  }
  return false;
}
