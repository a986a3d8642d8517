import { listTranscripts } from '@/lib/data/breakdowns.read';
import type { TranscriptHit } from '@/lib/domain/breakdowns/breakdown';
import { searchTranscript } from '@/lib/domain/captions/find-cue';
import { parseVtt } from '@/lib/domain/captions/parse-vtt';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { ThreadId } from '@/lib/domain/shared/ids';

const MOST_HITS = 100;

/**
 * Looks through what is said in the breakdowns of a thread that the viewer may see, newest first; at most 100 places.
 * Nothing is found in a thread that is not the viewer's to see.
 */
export async function searchTranscripts(
  viewer: Viewer,
  input: { threadId: ThreadId; words: string },
): Promise<TranscriptHit[]> {
  const transcripts = await listTranscripts(viewer, input.threadId);
  return transcripts
    .flatMap(({ vtt, ...breakdown }) =>
      searchTranscript(parseVtt(vtt).cues, input.words).map(({ cue }) => ({
        ...breakdown,
        startMs: cue.fromMs,
        endMs: cue.toMs,
        text: cue.text,
      })),
    )
    .slice(0, MOST_HITS);
}
