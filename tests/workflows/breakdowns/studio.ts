import { createHash } from 'node:crypto';
import { v7 as uuid } from 'uuid';
import { asSystem } from '@/lib/auth/system';
import { prisma } from '@/lib/data/client';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import { partKey } from '@/lib/domain/breakdowns/files';
import { writePart } from '@/lib/domain/breakdowns/parse-part';
import type { Piece, Recipe } from '@/lib/domain/breakdowns/timeline';
import type { Viewer } from '@/lib/domain/people/viewer';
import type { BreakdownId } from '@/lib/domain/shared/ids';
import { createLocalStorage } from '@/lib/platform/storage-local';
import type { Storage } from '@/lib/workflows/ports';
import { assembleBreakdown, type AssemblePorts } from '@/lib/workflows/assemble-breakdown';
import { claimPart } from '@/lib/workflows/claim-part';
import { finishPart } from '@/lib/workflows/finish-part';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { startBreakdown } from '@/lib/workflows/start-breakdown';
import {
  buildClip,
  buildCoach,
  buildGuardian,
  buildLesson,
  buildPlayer,
  buildProgram,
} from '../../support/build';
import { buildScene } from '../../support/build-scene';
import { fakePorts } from '../../support/fake-ports';
import { makeVoice } from '../../support/media/make-voice';
import { openMediaBench } from '../../support/media/prepared-clip';
import { viewerOf } from '../../support/viewers';

export const system = asSystem('worker');
const CLIP_FRAMES = 120;

/** A take as a recorder would keep it: parts of its voice with their events. */
export interface TestTake {
  segmentId: string;
  parts: Uint8Array[];
  toMs: number;
}

/** A coach with a fifteen-year-old's lesson in review, a real storage and a real engine. */
export async function openStudio() {
  const bench = await openMediaBench({ maxSeconds: 60 });
  const ports = fakePorts();
  let storages = 0;

  /** Frame `n` is shown from second `n` on, so that a moment tells where it comes from. */
  const eventsOf = (clipId: string, fromMs: number, toMs: number): BreakdownEvent[] => {
    const begin: BreakdownEvent[] =
      fromMs === 0 ? [{ t: 0, kind: 'scene', scene: buildScene({ clipId }) }] : [];
    const seconds = Array.from({ length: Math.ceil(toMs / 1000) }, (_, second) => second);
    return [
      ...begin,
      ...seconds
        .filter((second) => second > 0 && second * 1000 >= fromMs && second * 1000 < toMs)
        .map((second): BreakdownEvent => ({ t: second * 1000, kind: 'frame', clipId, frame: second })),
    ];
  };

  return {
    bench,
    ports,
    close: () => bench.close(),

    /** People and a lesson of their own, with a storage of its own. */
    async lesson(facts: { age?: number; state?: 'submitted' | 'in_review' | 'returned' } = {}) {
      const program = await buildProgram();
      const coach = await buildCoach(program);
      const player = await buildPlayer(program, { age: facts.age ?? 15 });
      const guardian = await buildGuardian(program, [player]);
      const state = facts.state ?? 'in_review';
      const coachId = state === 'submitted' ? null : coach.id;
      const lesson = await buildLesson(program, player, { state, coachId });
      const clip = await buildClip(lesson, { frameCount: CLIP_FRAMES });
      const storage = createLocalStorage(bench.at(`storage-${++storages}`));
      return {
        ...{ program, coach, player, guardian, lesson, clip, storage },
        asCoach: await viewerOf(coach, program),
        asPlayer: await viewerOf(player, program),
        asGuardian: await viewerOf(guardian, program),
      };
    },

    /** A take of so many seconds, its voice cut into `count` parts anywhere, as a recorder's chunks are. */
    async take(
      clipId: string,
      facts: {
        seconds?: number;
        count?: number;
        type?: 'audio/webm' | 'audio/mp4';
        /** The voice bytes that arrive, of those that were recorded. */
        spoil?: (voice: Buffer) => Uint8Array;
      } = {},
    ): Promise<TestTake> {
      const { seconds = 4, count = 2, type = 'audio/webm', spoil = (voice) => voice } = facts;
      const segmentId = uuid();
      const voice = spoil(await makeVoice(bench.at(`${segmentId}.made`), type, seconds));
      const toMs = seconds * 1000;
      const partMs = Math.ceil(toMs / count);
      const partBytes = Math.ceil(voice.length / count);
      const parts = Array.from({ length: count }, (_, number) => {
        const fromMs = number * partMs;
        const endMs = Math.min(toMs, fromMs + partMs);
        return writePart(
          {
            version: 2,
            ...{ segmentId, number, fromMs, toMs: endMs },
            voiceType: `${type};codecs=opus`,
            events: eventsOf(clipId, fromMs, endMs),
          },
          voice.subarray(number * partBytes, (number + 1) * partBytes),
        );
      });
      return { segmentId, parts, toMs };
    },

    /** Sends one part as the ingest does: claim, bytes, completion. Answers whether it was there already. */
    async send(viewer: Viewer, storage: Storage, breakdownId: BreakdownId, take: TestTake, number: number) {
      const bytes = take.parts[number]!;
      const part = { breakdownId, segmentId: take.segmentId, number };
      const { isStored } = await claimPart(ports, viewer, part, bytes.length);
      if (isStored) return true;
      const storageKey = partKey(part);
      await storage.put(storageKey, { bytes });
      await finishPart({ clock: ports.clock, storage }, system, part, {
        ...{ senderId: viewer.personId, storageKey, sizeBytes: bytes.length },
        md5: createHash('md5').update(bytes).digest('hex'),
      });
      return false;
    },

    recipe: (clipId: string, pieces: (Omit<Piece, 'kind'> & { kind?: Piece['kind'] })[]): Recipe => ({
      version: 1,
      clips: [{ clipId, frameCount: CLIP_FRAMES }],
      pieces: pieces.map((piece) => ({ kind: 'voice', ...piece })),
    }),

    assemblePorts: (storage: Storage, change: Partial<AssemblePorts> = {}): AssemblePorts => ({
      ...{ storage, engine: bench.engine, clock: ports.clock, queue: ports.queue, log: ports.log },
      hasCaptioner: false,
      ...change,
    }),

    /** A breakdown of one take, kept and put together. */
    async ready(
      at: { asCoach: Viewer; lesson: { id: unknown }; clip: { id: string }; storage: Storage },
      takeFacts: Parameters<typeof this.take>[1] = {},
    ) {
      const breakdownId = uuid() as BreakdownId;
      const lessonId = at.lesson.id as Parameters<typeof startBreakdown>[2]['lessonId'];
      await startBreakdown(ports, at.asCoach, { breakdownId, lessonId, hasVoice: true, title: 'Front foot' });
      const take = await this.take(at.clip.id, takeFacts);
      for (const number of take.parts.keys())
        await this.send(at.asCoach, at.storage, breakdownId, take, number);
      const recipe = this.recipe(at.clip.id, [{ segmentId: take.segmentId, fromMs: 0, toMs: take.toMs }]);
      const parts = [{ segmentId: take.segmentId, count: take.parts.length }];
      await keepBreakdown(ports, at.asCoach, { breakdownId, recipe, parts });
      const result = await assembleBreakdown(this.assemblePorts(at.storage), system, breakdownId);
      return { breakdownId, take, recipe, parts, result };
    },

    rowOf: (id: string) => prisma.breakdown.findUniqueOrThrow({ where: { id } }),
  };
}
