import type { PreparedFacts } from '@/lib/domain/clips/prepared';

/** What the row of a ready clip says of what was made of it. */
export const readyRow = (facts: PreparedFacts) => ({
  state: 'ready' as const,
  progress: 100,
  width: facts.width,
  height: facts.height,
  frameCount: facts.frameCount,
  durationUs: BigInt(facts.durationUs),
  fileRate: facts.fileRate,
});
