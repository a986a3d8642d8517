const FOLDERS = ['clips', 'breakdowns', 'remarks', 'documents', 'personal'] as const;
const ID = /^[0-9a-f-]{36}$/;

/** What a key of the storage belongs to. `file` is the rest of the key after the id. */
export interface FileOwner {
  folder: (typeof FOLDERS)[number];
  id: string;
  file: string;
}

/** Whose file a key is; null for keys of a shape that is not known here, which are left alone. */
export const ownerOf = (key: string): FileOwner | null => {
  const [name, id = '', ...rest] = key.split('/');
  const folder = FOLDERS.find((one) => one === name);
  return folder && ID.test(id) && rest.length > 0 ? { folder, id, file: rest.join('/') } : null;
};

/** Everything of a clip lies under this prefix of the storage. */
export const clipFolder = (clipId: string): string => `clips/${clipId}`;
/** Everything of a remark. */
export const remarkFolder = (remarkId: string): string => `remarks/${remarkId}`;
/** The stored copy of a document. */
export const documentFolder = (documentId: string): string => `documents/${documentId}`;
/** The parts of a file with everything about somebody. */
export const personalFolder = (exportId: string): string => `personal/${exportId}`;
/** One part, counted from 1. */
export const personalPart = (exportId: string, part: number): string =>
  `${personalFolder(exportId)}/part-${part}.zip`;
/** Whether a file of a clip is the original that was sent, or one that was put aside, under whatever ending. */
export const isOriginal = (file: string): boolean => /^(original|aside)\./.test(file);

/** A file without a row goes after this: an upload that has just ended may be noted a moment later. */
export const STRAY_AFTER_MS = 24 * 60 * 60 * 1000;
