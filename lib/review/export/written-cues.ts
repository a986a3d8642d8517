import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import type { Cue } from '@/lib/domain/captions/cue';

/** The sentences that the coach laid under the picture, with their times. */
export function writtenCues({ events, durationMs }: Pick<Timeline, 'events' | 'durationMs'>): Cue[] {
  const cues: Cue[] = [];
  let open: { fromMs: number; text: string } | null = null;
  const end = (toMs: number) => {
    if (open && open.text.trim() !== '' && toMs > open.fromMs) cues.push({ ...open, toMs });
    open = null;
  };
  for (const event of events) {
    const text = event.kind === 'caption' ? event.text : event.kind === 'scene' ? event.scene.caption : null;
    if (text === null || text === (open as { text: string } | null)?.text) continue;
    end(event.t);
    open = { fromMs: event.t, text };
  }
  end(durationMs);
  return cues;
}
