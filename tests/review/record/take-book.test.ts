import { beforeEach, expect, test } from 'vitest';
import { readPart, writePart } from '@/lib/domain/breakdowns/parse-part';
import type { BreakdownEvent } from '@/lib/domain/breakdowns/event';
import type { PartSender } from '@/lib/review/record/part-sender';
import { troubleOf } from '@/lib/review/record/part-sender';
import { levelOf } from '@/lib/review/record/mic';
import { createTakeClock } from '@/lib/review/record/recorder';
import { TakeBook } from '@/lib/review/record/take-book';
import { partCount, partOf, SLICES_PER_PART } from '@/lib/review/record/take-parts';
import type { Keeping, KeptBreakdown, KeptSlice, TakeStore } from '@/lib/review/record/take-store';

const segmentId = '0197a000-0000-7000-8000-0000000000a1';
const breakdownId = '0197a000-0000-7000-8000-0000000000b1';
const clipId = '0197a000-0000-7000-8000-0000000000c1';
const blank: KeptBreakdown = {
  ...{ breakdownId, lessonId: 'lesson', personId: 'coach', startedAt: '2026-11-25T20:00:00.000Z' },
  clips: [{ clipId, frameCount: 90 }],
  ...{ takes: [], pieces: [], openTake: null, isSent: false },
};

let written: KeptBreakdown[];
let slices: KeptSlice[];
let keeping: Keeping;
let added: { number: number; bytes: Uint8Array }[];
let forgotten: number[];

const store: TakeStore = {
  put: (one) => Promise.resolve((written.push(one), keeping)),
  append: (one) => Promise.resolve((slices.push(one), keeping)),
  slices: (id) => Promise.resolve(slices.filter((slice) => slice.segmentId === id)),
  noteSent: () => Promise.resolve(),
  sent: () => Promise.resolve(new Set([0])),
  find: () => Promise.resolve([]),
  remove: () => Promise.resolve(),
  close: () => undefined,
};
const sender = {
  add: (head: Parameters<PartSender['add']>[0], voice: Uint8Array) =>
    added.push({ number: head.number, bytes: writePart(head, voice) }),
  noteSent: () => undefined,
  forget: (_id: string, numbers: readonly number[]) => forgotten.push(...numbers),
} as unknown as PartSender;

beforeEach(() => {
  written = [];
  slices = [];
  keeping = 'kept';
  added = [];
  forgotten = [];
});

const event = (t: number): BreakdownEvent => ({ t, kind: 'point', at: null });
const say = async (book: TakeBook, count: number) => {
  for (let n = 0; n < count; n += 1) {
    const voice = Promise.resolve(new Uint8Array([n, n]).buffer);
    const slice = { fromMs: n * 500, toMs: (n + 1) * 500, events: [event(n * 500)] };
    book.append(segmentId, slice, voice);
  }
  await book.settled();
};

test('parts are made as soon as they are full, the rest when the take ends, each once and in order', async () => {
  const book = new TakeBook(blank, store, sender);
  await book.begin({ segmentId, kind: 'voice', voiceType: 'audio/webm' });
  await say(book, SLICES_PER_PART + 3);
  expect(added.map((part) => part.number)).toEqual([0]);
  await book.end(11_500);
  expect(added.map((part) => part.number)).toEqual([0, 1]);
  const { head, voice } = readPart(added[1]?.bytes ?? new Uint8Array());
  expect(head).toMatchObject({ fromMs: 10_000, toMs: 11_500, voiceBytes: 6, events: [{}, {}, {}] });
  expect([...voice]).toEqual([20, 20, 21, 21, 22, 22]);
  expect(book.pieces).toEqual([{ segmentId, kind: 'voice', fromMs: 0, toMs: 11_500 }]);
  expect(book.partsUsed()).toEqual([{ segmentId, count: 2 }]);
});

test('slices stay in order however late their voice comes', async () => {
  const book = new TakeBook(blank, store, sender);
  await book.begin({ segmentId, kind: 'voice', voiceType: 'audio/webm' });
  let late: (bytes: ArrayBuffer) => void = () => undefined;
  const slow = new Promise<ArrayBuffer>((resolve) => {
    late = resolve;
  });
  book.append(segmentId, { fromMs: 0, toMs: 500, events: [] }, slow);
  book.append(segmentId, { fromMs: 500, toMs: 1000, events: [] }, Promise.resolve(new ArrayBuffer(2)));
  late(new ArrayBuffer(1));
  await book.settled();
  expect(slices.map((slice) => [slice.number, slice.voice?.byteLength])).toEqual([
    [0, 1],
    [1, 2],
  ]);
});

test('a take that a killed browser left open ends with its last slice, and makes the same parts again', async () => {
  const first = new TakeBook(blank, store, sender);
  await first.begin({ segmentId, kind: 'voice', voiceType: 'audio/webm' });
  await say(first, SLICES_PER_PART + 3);
  const before = added.map((part) => part.bytes);
  added = [];
  const open = written.at(-1);
  if (!open) throw new Error('Nothing was written');
  const again = await TakeBook.takeUp(open, store, sender);
  expect(again.pieces).toEqual([{ segmentId, kind: 'voice', fromMs: 0, toMs: 11_500 }]);
  expect(added[0]?.bytes).toEqual(before[0]);
  expect(added).toHaveLength(2);
});

test('pieces of slices that were lost are shortened or left out', async () => {
  const lost = '0197a000-0000-7000-8000-0000000000a9';
  const kept: KeptBreakdown = {
    ...blank,
    takes: [segmentId, lost].map((id) => ({ segmentId: id, kind: 'silent' as const, voiceType: '' })),
    pieces: [segmentId, lost].map((id) => ({
      segmentId: id,
      kind: 'silent' as const,
      fromMs: 0,
      toMs: 5000,
    })),
  };
  slices = [0, 1].map((number) => ({
    ...{ segmentId, breakdownId, number, fromMs: number * 500, toMs: (number + 1) * 500 },
    ...{ voice: null, events: [event(number * 500)] },
  }));
  const book = await TakeBook.takeUp(kept, store, sender);
  expect(book.pieces).toEqual([{ segmentId, kind: 'silent', fromMs: 0, toMs: 1000 }]);
});

test('parts that the server misses are forgotten and lined up again', async () => {
  const book = new TakeBook(blank, store, sender);
  await book.begin({ segmentId, kind: 'voice', voiceType: 'audio/webm' });
  await say(book, 5);
  await book.end(2500);
  added = [];
  book.sendAgain([{ segmentId, numbers: [0] }]);
  expect(forgotten).toEqual([0]);
  expect(added.map((part) => part.number)).toEqual([0]);
});

test('a full browser is told once', async () => {
  const told: Keeping[] = [];
  const book = new TakeBook(blank, store, sender, (now) => told.push(now));
  await book.begin({ segmentId, kind: 'voice', voiceType: 'audio/webm' });
  keeping = 'full';
  await say(book, 4);
  expect(told).toEqual(['full']);
});

test('parts of no slices are none', () => {
  expect(partOf([], 0, '')).toBeNull();
  expect([partCount(0, true), partCount(19, false), partCount(20, false), partCount(21, true)]).toEqual([
    0, 0, 1, 2,
  ]);
});

test('the clock of a take leaves its pauses out and never passes ten minutes', () => {
  let now = 5;
  const clock = createTakeClock(() => now);
  now = 6.5;
  expect(clock.nowMs()).toBe(1500);
  clock.pause();
  now = 60;
  expect(clock.nowMs()).toBe(1500);
  clock.resume();
  now = 60.25;
  expect(clock.nowMs()).toBe(1750);
  now = 5000;
  expect(clock.nowMs()).toBe(600_000);
});

test('loudness is told between silence and as loud as it can be', () => {
  expect(levelOf(new Float32Array(64))).toBe(0);
  expect(levelOf(new Float32Array(64).fill(1))).toBe(1);
  // -20 dB below full scale is two thirds of the way up from -60.
  expect(levelOf(new Float32Array(64).fill(0.1))).toBeCloseTo(2 / 3, 3);
});

test.each([
  [['not-signed-in'], 'signed-out'],
  [['safeguarding'], 'paused-by'],
  [['wrong-state'], 'not-yours'],
  [['conflict'], 'broken'],
  [['disk-full'], 'room'],
  [['internal'], 'network'],
  [[], 'network'],
] as const)('the server’s %j means %s for the parts', (faults, trouble) => {
  expect(troubleOf(faults)).toBe(trouble);
});
