import { listTranscripts } from '@/lib/data/breakdowns.read';
import type { TranscriptHit } from '@/lib/domain/breakdowns/breakdown';
import { searchTranscript } from '@/lib/domain/captions/find-cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ThreadId } from '@/lib/domain/shared/ids';

const MANY_HITS = 100;

/**
 * Looks through what is said in the breakdowns of a thread that the viewer may see, newest first, until a hundred places
 * are found or a hundred breakdowns are looked through; `next` is the `after` that goes on from there, null at the end.
 * Nothing is found in a thread that is not the viewer's to see.
 */
export async function searchTranscripts(
  viewer: Viewer,
  input: { threadId: ThreadId; words: string; after?: string | null },
): Promise<{ hits: TranscriptHit[]; next: string | null }> {
  const { rows, next } = await listTranscripts(viewer, input.threadId, { after: input.after ?? null });
  const hits: TranscriptHit[] = [];
  for (const [index, { of, vtt, place }] of rows.entries()) {
    for (const { cue } of searchTranscript(parseVtt(vtt).cues, input.words)) {
      hits.push({ ...of, startMs: cue.fromMs, endMs: cue.toMs, text: cue.text });
    }
    if (hits.length >= MANY_HITS && index < rows.length - 1) return { hits, next: place };
  }
  return { hits, next };
}
