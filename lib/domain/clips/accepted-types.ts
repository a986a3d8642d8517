/** File types that a clip may have, each with the ending of its original in storage and its family of containers. */
export const ACCEPTED_TYPES = {
  'video/mp4': { ending: 'mp4', family: 'iso' },
  'video/quicktime': { ending: 'mov', family: 'iso' },
  'video/webm': { ending: 'webm', family: 'matroska' },
  'video/x-matroska': { ending: 'mkv', family: 'matroska' },
} as const;
export type AcceptedType = keyof typeof ACCEPTED_TYPES;

// The same containers under the other names that browsers, phones and detectors give them.
const ALIASES: Record<string, AcceptedType> = {
  'video/x-m4v': 'video/mp4',
  'video/m4v': 'video/mp4',
  'video/matroska': 'video/x-matroska',
};

/** The accepted type that a media type stands for (parameters after a semicolon do not count), or null. */
export const acceptedType = (mediaType: string): AcceptedType | null => {
  const plain = (mediaType.split(';')[0] ?? '').trim().toLowerCase();
  if (Object.hasOwn(ACCEPTED_TYPES, plain)) return plain as AcceptedType;
  return ALIASES[plain] ?? null;
};

/**
 * True when a file declared as one type may hold the other. Phones name MOV and MP4 interchangeably, and WebM is a
 * kind of Matroska (RFC 9559), so that only a change of family is a lie.
 */
export const isSameFamily = (declared: AcceptedType, found: AcceptedType): boolean =>
  ACCEPTED_TYPES[declared].family === ACCEPTED_TYPES[found].family;

/** Under this key the original of a clip lies in storage. */
export const originalKey = (clipId: string, type: AcceptedType): string =>
  `clips/${clipId}/original.${ACCEPTED_TYPES[type].ending}`;
