import { afterEach, beforeEach, expect, test, vi } from 'vitest';
import { readPart } from '@/lib/domain/breakdowns/parse-part';
import { partPrint } from '@/lib/domain/breakdowns/part-print';
import {
  createPartSender,
  PartFailure,
  type SendPart,
  type SendTrouble,
} from '@/lib/review/record/part-sender';

const breakdownId = '0197a000-0000-7000-8000-0000000000b1';
const segmentId = '0197a000-0000-7000-8000-0000000000a1';
const PATIENCE = { stallMs: 500, answerMs: 500, firstWaitMs: 5, longestWaitMs: 10 };

let there: number[];
let failing: (SendTrouble | Error)[];
let begun: number;
let senders: ReturnType<typeof createPartSender>[];

const send: SendPart = async (file, { input }) => {
  const failure = failing.shift();
  if (failure) throw failure instanceof Error ? failure : new PartFailure(failure);
  const bytes = new Uint8Array(await file.arrayBuffer());
  expect(readPart(bytes).head.number).toBe(input.number);
  expect(input.print).toBe(await partPrint(bytes));
  there.push(input.number);
};
const open = (begin: () => Promise<void> = () => Promise.resolve(void (begun += 1))) => {
  const sender = createPartSender({ breakdownId, begin, send, patience: PATIENCE, chance: () => 0 });
  senders.push(sender);
  return sender;
};
const head = (number: number) => ({
  ...{ version: 2 as const, segmentId, number, voiceType: '', fromMs: number * 10_000 },
  toMs: (number + 1) * 10_000,
  events: [],
});
const none = new Uint8Array();

beforeEach(() => {
  [there, failing, begun, senders] = [[], [], 0, []];
});
afterEach(() => {
  for (const sender of senders) sender.dispose();
});

test('parts go one at a time in order, each once, after the server was told of the breakdown', async () => {
  const sender = open();
  for (const number of [0, 1, 2, 1]) sender.add(head(number), none);
  expect(await sender.settled()).toBe(true);
  expect(there).toEqual([0, 1, 2]);
  expect(begun).toBe(1);
  expect(sender.getSnapshot()).toEqual({ made: 3, sent: 3, trouble: null });
});

test('a lost connection is told, and passes by itself', async () => {
  failing = [new TypeError('Failed to fetch'), 'network', 'room'];
  const seen = new Set<SendTrouble | null>();
  const sender = open();
  sender.subscribe(() => seen.add(sender.getSnapshot().trouble));
  sender.add(head(0), none);
  expect(await sender.settled()).toBe(true);
  expect(seen).toEqual(new Set(['network', 'room', null]));
  expect(there).toEqual([0]);
});

test('a server that cannot be told of the breakdown gets no part until it can', async () => {
  let tries = 0;
  const sender = open(() => (++tries < 3 ? Promise.reject(new TypeError('offline')) : Promise.resolve()));
  sender.add(head(0), none);
  expect(await sender.settled()).toBe(true);
  expect(tries).toBe(3);
  expect(there).toEqual([0]);
});

test.each(['signed-out', 'paused-by', 'not-yours', 'broken'] as const)(
  'trouble of the kind "%s" stops the sending until it is asked for again',
  async (trouble) => {
    failing = [trouble];
    const sender = open();
    sender.add(head(0), none);
    expect(await sender.settled()).toBe(false);
    expect(sender.getSnapshot()).toMatchObject({ sent: 0, trouble });
    sender.retry();
    expect(await sender.settled()).toBe(true);
    expect(there).toEqual([0]);
  },
);

test('signed in again in another tab, it goes on when the page is looked at', async () => {
  failing = ['signed-out'];
  const sender = open();
  sender.add(head(0), none);
  expect(await sender.settled()).toBe(false);
  document.dispatchEvent(new Event('visibilitychange'));
  await vi.waitFor(() => expect(there).toEqual([0]));
});

test('what an earlier page sent is not sent again, unless the server lost it', async () => {
  const sender = open();
  sender.noteSent(segmentId, 0);
  sender.add(head(0), none);
  sender.add(head(1), none);
  expect(await sender.settled()).toBe(true);
  expect(there).toEqual([1]);
  sender.forget(segmentId, [0]);
  sender.add(head(0), none);
  expect(await sender.settled()).toBe(true);
  expect(there).toEqual([1, 0]);
});
