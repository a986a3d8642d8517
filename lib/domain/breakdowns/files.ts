/** Everything of a breakdown lies under this prefix of the storage. */
export const breakdownFolder = (breakdownId: string): string => `breakdowns/${breakdownId}`;

/** Under this key a part of a take lies in storage. */
export const partKey = (part: { breakdownId: string; segmentId: string; number: number }): string =>
  `${breakdownFolder(part.breakdownId)}/parts/${part.segmentId}-${part.number}`;

/** Under this key the one part of a spoken remark lies in storage. */
export const remarkKey = (remarkId: string): string => `remarks/${remarkId}/part`;

/** The file endings of a joined voice by media type: what recorders of browsers write. */
const VOICE_ENDINGS = { 'audio/webm': 'webm', 'audio/mp4': 'm4a' } as const;
export type VoiceType = keyof typeof VOICE_ENDINGS;

/** The voice's type that a media type stands for (parameters do not count), or null. */
export const voiceTypeOf = (mediaType: string): VoiceType | null => {
  const plain = (mediaType.split(';')[0] ?? '').trim().toLowerCase();
  return Object.hasOwn(VOICE_ENDINGS, plain) ? (plain as VoiceType) : null;
};

/** Name of the joined voice of the n-th time a breakdown was kept. Each time has names of its own: one that plays is not changed. */
export const voiceFile = (take: number, type: VoiceType): string => `voice-${take}.${VOICE_ENDINGS[type]}`;

/** Name of the joined timeline of the n-th time a breakdown was kept. */
export const timelineFile = (take: number): string => `timeline-${take}.json`;

/** Name of the same voice as AAC in MP4, made for exports. */
export const soundFile = (take: number): string => `sound-${take}.m4a`;

/** Name of an exported file. */
export const exportFile = (exportId: string): string => `export-${exportId}.mp4`;
