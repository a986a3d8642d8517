/** A stretch of a file that is replaced by bytes of the same length: nothing moves, so that no offset changes. */
export interface FileEdit {
  start: number;
  bytes: Uint8Array<ArrayBuffer>;
}

/** The file with the edits in place, recomposed from slices of the old one: no copy of it is made in memory. */
export const applyEdits = (file: File, edits: readonly FileEdit[]): File => {
  const parts: BlobPart[] = [];
  let at = 0;
  for (const edit of [...edits].sort((a, b) => a.start - b.start)) {
    // Two stretches that overlap were found twice; the first says enough.
    if (edit.start < at) continue;
    parts.push(file.slice(at, edit.start), edit.bytes);
    at = edit.start + edit.bytes.length;
  }
  parts.push(file.slice(at));
  return new File(parts, file.name, { type: file.type, lastModified: file.lastModified });
};

/** Reads a stretch of a file; shorter at its end. */
export const readBytes = async (file: Blob, start: number, length: number): Promise<DataView<ArrayBuffer>> =>
  new DataView(await file.slice(start, start + length).arrayBuffer());
