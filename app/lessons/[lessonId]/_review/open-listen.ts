import * as z from 'zod';
import type { ClipOnPage } from '@/app/lessons/_swing/clip-on-page';
import { openPlayer } from '@/app/lessons/_swing/open-player';
import { joinPieces, type PieceSource } from '@/lib/domain/breakdowns/join';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import { CagepostError } from '@/lib/domain/shared/errors';
import { writtenCues } from '@/lib/review/export/written-cues';
import type { Player } from '@/lib/review/player/player';
import { joinVoice } from '@/lib/review/record/join-voice';
import type { TakeBook } from '@/lib/review/record/take-book';
import { voiceOf } from '@/lib/review/record/take-parts';
import { createReplay, type Replay } from '@/lib/review/replay/replay';

const remarkSchema = z.object({ part: z.string().nullable(), durationMs: z.number().nullable() });

const remarkVoice = async (id: string): Promise<{ voice: Uint8Array; durationMs: number } | null> => {
  const response = await fetch(`/api/remarks/${id}`);
  if (!response.ok) return null;
  const remark = remarkSchema.parse(await response.json());
  if (!remark.part) return null;
  const file = await fetch(remark.part);
  if (!file.ok) return null;
  const { voice } = readPart(new Uint8Array(await file.arrayBuffer()));
  return { voice, durationMs: remark.durationMs ?? 0 };
};

export interface Listening {
  replay: Replay;
  dispose(): void;
}

/** Plays a breakdown as it stands in this browser, before the server has joined it. */
export async function openListen(options: {
  book: TakeBook;
  clips: readonly ClipOnPage[];
  stage: HTMLElement;
  startMs: number;
  signal: AbortSignal;
}): Promise<Listening> {
  const { book, clips, stage, startMs, signal } = options;
  const { recipe } = book;
  const sources = new Map<string, PieceSource>();
  const remarks = new Map<string, Uint8Array>();
  for (const piece of recipe.pieces) {
    const own = book.sourceOf(piece.segmentId);
    if (own) sources.set(piece.segmentId, own);
    else if (!sources.has(piece.segmentId)) {
      const remark = await remarkVoice(piece.segmentId);
      if (remark) remarks.set(piece.segmentId, remark.voice);
      sources.set(piece.segmentId, { events: [], durationMs: piece.toMs, hasVoice: remark !== null });
    }
  }
  const timeline = joinPieces(recipe, sources);
  const sound = await joinVoice(recipe.pieces, (piece) =>
    Promise.resolve(remarks.get(piece.segmentId) ?? voiceOf(book.take(piece.segmentId)?.slices ?? [])),
  );
  signal.throwIfAborted();
  const address = sound && URL.createObjectURL(sound);
  const voice = address ? new Audio(address) : null;
  const open = new Map<string, Promise<Player>>();
  const replay = createReplay({
    timeline,
    stage,
    voice,
    captions: writtenCues(timeline),
    startMs,
    players: (clipId) => {
      const clip = clips.find((one) => one.id === clipId);
      if (!clip)
        return Promise.reject(new CagepostError('not-found', 'A clip of this breakdown is not here.'));
      const opening = open.get(clipId) ?? openPlayer(clip, signal);
      open.set(clipId, opening);
      return opening;
    },
  });
  return {
    replay,
    dispose: () => {
      replay.dispose();
      for (const opening of open.values()) opening.then((player) => player.dispose()).catch(() => {});
      voice?.pause();
      voice?.removeAttribute('src');
      if (address) URL.revokeObjectURL(address);
    },
  };
}
