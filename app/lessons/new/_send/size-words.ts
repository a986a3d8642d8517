const MEGABYTE = 1_000_000; // phones count in powers of ten

/** A file's size as a phone would tell it: "840 kB", "18 MB", "1.2 GB". */
export const sizeWords = (bytes: number): string => {
  if (bytes < MEGABYTE) return `${Math.max(1, Math.round(bytes / 1000))} kB`;
  if (bytes < 1000 * MEGABYTE) return `${Math.round(bytes / MEGABYTE)} MB`;
  return `${(bytes / (1000 * MEGABYTE)).toFixed(1)} GB`;
};

/** "11 of 18 MB": both in the unit of the whole. */
export const sentWords = (sent: number, total: number): string => {
  if (total < MEGABYTE) return `${Math.round(sent / 1000)} of ${sizeWords(total)}`;
  if (total < 1000 * MEGABYTE) return `${Math.round(sent / MEGABYTE)} of ${sizeWords(total)}`;
  return `${(sent / (1000 * MEGABYTE)).toFixed(1)} of ${sizeWords(total)}`;
};

/** What is left, rounded so that it does not flicker: "about 40 s left", "about 3 min left". */
export const leftWords = (seconds: number): string => {
  if (seconds < 8) return 'a few seconds left';
  if (seconds < 55) return `about ${Math.ceil(seconds / 5) * 5} s left`;
  return `about ${Math.max(1, Math.round(seconds / 60))} min left`;
};

/** A length of film: "8.3 s", "1 min 4 s". */
export const lengthWords = (seconds: number): string => {
  const tenths = Math.round(seconds * 10) / 10;
  if (tenths < 60) return `${tenths} s`;
  return `${Math.floor(tenths / 60)} min ${Math.round(tenths % 60)} s`;
};
