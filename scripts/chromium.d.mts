export const CHROMIUM_FLAGS: readonly string[];
export function findChromium(): string | undefined;
export function ensureChromium(say: (line: string) => void): string;
