import type { Going } from './send-types';

/** All clips of the lesson as one journey, for the line that stays in sight on every step; null with nothing to tell. */
export const togetherOf = (all: readonly Going[]): Going | null => {
  const failed = all.find((going) => going.kind === 'failed');
  if (failed) return failed;
  const moving = all.filter((going) => 'totalBytes' in going);
  if (moving.length === 0) {
    if (all.length > 0 && all.every((going) => going.kind === 'stored')) return { kind: 'stored' };
    return all.find((going) => going.kind === 'waiting' || going.kind === 'held') ?? null;
  }
  const sentBytes = moving.reduce((sum, going) => sum + going.sentBytes, 0);
  const totalBytes = moving.reduce((sum, going) => sum + going.totalBytes, 0);
  const sending = moving.filter((going) => going.kind === 'sending');
  if (sending.length === 0) {
    return {
      kind: moving.some((going) => going.kind === 'offline') ? 'offline' : 'paused',
      sentBytes,
      totalBytes,
    };
  }
  const left = sending.map((going) => going.secondsLeft);
  const secondsLeft = left.includes(null) ? null : left.reduce<number>((sum, one) => sum + (one ?? 0), 0);
  const note = sending.find((going) => going.note)?.note ?? null;
  return { kind: 'sending', sentBytes, totalBytes, secondsLeft, note };
};
