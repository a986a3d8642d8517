import { vi } from 'vitest';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import type { PartHead, Recipe } from '@/lib/domain/breakdowns/timeline';
import { openFrameSource } from '@/lib/review/media/open-frame-source';
import { Player } from '@/lib/review/player/player';
import { createEventTap } from '@/lib/review/record/events';
import { createRecordSession } from '@/lib/review/record/session';
import type { KeepAnswer, SessionOptions } from '@/lib/review/record/session-state';
import { openTakeStore, type TakeStore } from '@/lib/review/record/take-store';
import { openStage, CLIP } from '../canvas/stage';
import { countedClip } from '../player/counted-clip';

/** A part as it came to the server of the test. */
export interface PartThere {
  readonly head: PartHead;
  readonly voice: Uint8Array;
}

/** A server that keeps parts in memory and answers as it is told. */
export const createFakeServer = () => {
  const parts = new Map<string, PartThere>();
  const begun: { breakdownId: string; hasVoice: boolean }[] = [];
  const kept: {
    breakdownId: string;
    recipe: Recipe;
    parts: readonly { segmentId: string; count: number }[];
  }[] = [];
  const removed: string[] = [];
  const answers: KeepAnswer[] = [];
  const server: SessionOptions['server'] = {
    begin: (one) => Promise.resolve(void begun.push(one)),
    keep: (one) => {
      kept.push(one);
      return Promise.resolve(answers.shift() ?? { is: 'kept' });
    },
    remove: (id) => Promise.resolve(void removed.push(id)),
  };
  const send: NonNullable<SessionOptions['send']> = async (file, { input }) => {
    const part = readPart(new Uint8Array(await file.arrayBuffer()));
    parts.set(`${input.segmentId}/${input.number}`, part);
  };
  const ofTake = (segmentId: string) =>
    [...parts.values()]
      .filter((part) => part.head.segmentId === segmentId)
      .sort((a, b) => a.head.number - b.head.number);
  return { server, send, parts, begun, kept, removed, answers, ofTake };
};

/** The voice of parts as one sound. */
export const decode = async (voices: readonly Uint8Array[]): Promise<AudioBuffer> => {
  const bytes = await new Blob(voices.map((voice) => new Uint8Array(voice))).arrayBuffer();
  return new OfflineAudioContext(1, 48_000, 48_000).decodeAudioData(bytes);
};

/** A bench with a real clip, chalk, microphone and store, and a server in memory. */
export const openBench = async (more: Partial<SessionOptions> & { store?: TakeStore } = {}) => {
  const { stage, board } = await openStage();
  const clip = await countedClip('review');
  const player = new Player(await openFrameSource({ url: clip.url, table: clip.table }), clip.table);
  player.onPicture((picture, index) => board.showPicture(picture, index));
  await vi.waitFor(() => {
    if (player.getSnapshot().shownFrame !== 0) throw new Error('No frame yet');
  });
  const tap = createEventTap();
  tap.watch({ clipId: CLIP, player, board, stage });
  const fake = createFakeServer();
  const store = more.store ?? openTakeStore(`test-${crypto.randomUUID()}`);
  const session = createRecordSession({
    lessonId: 'lesson',
    personId: 'coach',
    clips: () => [{ clipId: CLIP, frameCount: player.source.frameCount }],
    tap,
    server: fake.server,
    send: fake.send,
    patience: { stallMs: 2000, answerMs: 2000, firstWaitMs: 5, longestWaitMs: 20 },
    countdownMs: 0,
    isRawSound: true,
    ...more,
    store,
  });
  const until = (wanted: () => boolean) =>
    vi.waitFor(
      () => {
        if (!wanted()) throw new Error(`Not yet: ${JSON.stringify(session.getSnapshot())}`);
      },
      { timeout: 20_000, interval: 10 },
    );
  const close = () => {
    session.dispose();
    tap.dispose();
    board.dispose();
    player.dispose();
  };
  return { stage, board, player, tap, session, store, until, close, ...fake };
};
