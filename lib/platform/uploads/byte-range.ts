export interface ByteRange {
  /** First and last byte, both inside the file. */
  start: number;
  end: number;
}

/**
 * Reads a Range header against a size in bytes (RFC 9110, section 14). Null: answer the whole file (no header,
 * another unit, several ranges, or a header that does not parse). `unsatisfiable`: answer 416.
 */
export const readByteRange = (
  header: string | undefined,
  size: number,
): ByteRange | 'unsatisfiable' | null => {
  const parts = /^bytes=\s*(\d*)\s*-\s*(\d*)\s*$/i.exec(header ?? '');
  if (!parts) return null;
  const [, first = '', last = ''] = parts;
  if (first === '' && last === '') return null;
  if (first === '') {
    const length = Math.min(Number(last), size);
    return length === 0 ? 'unsatisfiable' : { start: size - length, end: size - 1 };
  }
  const start = Number(first);
  const end = last === '' ? size - 1 : Math.min(Number(last), size - 1);
  if (last !== '' && Number(last) < start) return null;
  return start >= size ? 'unsatisfiable' : { start, end };
};
