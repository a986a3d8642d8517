import type { Scene } from '@/lib/domain/breakdowns/event';

/** What is seen at a moment: frame 0 of a clip, whole, at its own speed, nothing drawn. */
export const buildScene = (of: Partial<Scene> & Pick<Scene, 'clipId'>): Scene => ({
  frame: 0,
  speed: 1,
  isPlaying: false,
  look: { x: 0.5, y: 0.5, zoom: 1 },
  checkpoint: null,
  itemId: null,
  marks: [],
  isChalkShown: true,
  pointer: null,
  beside: null,
  caption: '',
  ...of,
});
