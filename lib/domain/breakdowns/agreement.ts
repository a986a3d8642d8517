/**
 * How far the length of the voice and the time over which events were noted may differ, in milliseconds: the recorder
 * starts and stops between two packets of sound, and a killed browser loses the end of one second.
 */
export const AGREEMENT_MS = 1200;

/** Whether a take's voice and its events are of one length, and if not, a sentence about it. Both in milliseconds. */
export const agrees = (
  voiceMs: number,
  eventsMs: number,
): { isAgreed: boolean; offMs: number; sentence: string | null } => {
  const offMs = Math.round(voiceMs - eventsMs);
  if (Math.abs(offMs) <= AGREEMENT_MS) return { isAgreed: true, offMs, sentence: null };
  const by = `${(Math.abs(offMs) / 1000).toFixed(1)} seconds`;
  const [less, more] = offMs < 0 ? ['voice', 'picture'] : ['picture', 'voice'];
  return {
    isAgreed: false,
    offMs,
    sentence: `The ${less} of this take ends ${by} before the ${more} does. Both were kept. Listen to its end before you give it back, or record it again from there.`,
  };
};
