import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { joinPieces } from '@/lib/domain/breakdowns/join';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import type { Timeline } from '@/lib/domain/breakdowns/timeline';
import { joinVoice } from '@/lib/review/record/join-voice';
import { createRecordSession, type RecordSession } from '@/lib/review/record/session';
import type { SendPart } from '@/lib/review/record/part-sender';
import { openTakeStore } from '@/lib/review/record/take-store';
import { voiceOf } from '@/lib/review/record/take-parts';
import { CLIP, type Stand } from './stand';

/** A recording of the bench with everything that was sent of it. */
export interface Recording {
  readonly session: RecordSession;
  readonly sent: { bytes: number; voiceBytes: number };
}

/** A session on the stand; its parts go to the page's server, which throws them away. */
export const openRecording = (stand: Stand): Recording => {
  const sent = { bytes: 0, voiceBytes: 0 };
  const send: SendPart = async (file) => {
    sent.bytes += file.size;
    sent.voiceBytes += readPart(new Uint8Array(await file.arrayBuffer())).head.voiceBytes;
    await fetch('/sink', { method: 'POST', body: file });
  };
  const session = createRecordSession({
    lessonId: 'bench',
    personId: 'coach',
    clips: () => [{ clipId: CLIP, frameCount: stand.player.source.frameCount }],
    tap: stand.tap,
    server: {
      begin: () => Promise.resolve(),
      keep: () => Promise.resolve({ is: 'kept' }),
      remove: () => Promise.resolve(),
    },
    send,
    store: openTakeStore(),
    countdownMs: 0,
    isRawSound: true,
  });
  return { session, sent };
};

/** Begins a take by the microphone; throws when there is none. */
export const beginTake = async ({ session }: Recording): Promise<void> => {
  await session.check();
  await session.start('voice');
  const { phase, sentence } = session.getSnapshot();
  if (phase !== 'recording') throw new Error(`It does not record: ${phase} ${sentence ?? ''}`);
};

/** The timeline and voice of what was recorded, repeated to the wanted length; `bytes` are the recorder's, once. */
export const joinRecording = async (
  { session }: Recording,
  times: number,
): Promise<{ timeline: Timeline; voice: Blob | null; bytes: Uint8Array }> => {
  const book = session.book();
  if (!book) throw new Error('Nothing was recorded.');
  const { recipe } = book;
  const pieces = Array.from({ length: times }, () => recipe.pieces).flat();
  const sources = new Map(
    recipe.pieces.flatMap((piece) => {
      const source = book.sourceOf(piece.segmentId);
      return source ? [[piece.segmentId, source] as const] : [];
    }),
  );
  const timeline = joinPieces({ ...recipe, pieces }, sources);
  const voice = await joinVoice(pieces, (piece) =>
    Promise.resolve(voiceOf(book.take(piece.segmentId)?.slices ?? [])),
  );
  const bytes = voiceOf(recipe.pieces.flatMap((piece) => book.take(piece.segmentId)?.slices ?? []));
  return { timeline, voice, bytes };
};

/** What a killed browser left: its length, the length of its voice, and how many frames it saw changed. */
export const readLeft = async (
  session: RecordSession,
): Promise<{ ms: number; voiceMs: number; frameEvents: number } | null> => {
  const [left] = await session.recover();
  if (!left) return null;
  await session.takeUp(left.breakdownId);
  const book = session.book();
  const [piece] = book?.pieces ?? [];
  const take = piece && book?.take(piece.segmentId);
  if (!take) return null;
  const events: BreakdownEvent[] = take.slices.flatMap((slice) => [...slice.events]);
  const sound = await new OfflineAudioContext(1, 1, 48_000).decodeAudioData(voiceOf(take.slices).buffer);
  const frameEvents = events.filter((event) => event.kind === 'frame').length;
  await session.discard();
  return { ms: left.ms, voiceMs: sound.duration * 1000, frameEvents };
};
