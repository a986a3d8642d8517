import { beforeEach, expect, test } from 'vitest';
import {
  createCheckInQueue,
  sendCheckIn,
  type CheckInQueue,
  type SendOutcome,
  type WaitingCheckIn,
} from '@/lib/review/practice/check-in-queue';
import type { Day } from '@/lib/domain/people/age';

let name: string;
let sent: WaitingCheckIn[];
let answers: SendOutcome[];

beforeEach(() => {
  name = `test-${crypto.randomUUID()}`;
  sent = [];
  answers = [];
});

/** A site that the test plays itself: it answers what stands in `answers`, then takes everything. */
const begin = (): CheckInQueue =>
  createCheckInQueue((one) => {
    sent.push(one);
    return Promise.resolve(answers.shift() ?? { is: 'taken' });
  }, name);

const checkIn = (over: Partial<WaitingCheckIn> = {}) => ({
  id: crypto.randomUUID(),
  ownerId: 'anna',
  assignmentId: crypto.randomUUID(),
  said: {
    day: '2026-06-01' as Day,
    setsDone: 2,
    repsDone: 16,
    feel: null,
    note: '',
    painLevel: 0,
    painWhere: null,
  },
  ...over,
});

test('what is added without a network waits over a closed page, and goes out when it is back', async () => {
  answers = [{ is: 'later' }];
  const first = checkIn();
  const queue = begin();
  await queue.add(first);
  expect(await queue.flush('anna')).toMatchObject([{ id: first.id, refusal: null }]);
  const opened = begin(); // the page was closed and opened again
  expect(await opened.list('anna')).toHaveLength(1);
  expect(await opened.flush('anna')).toEqual([]);
  expect(sent.map((one) => one.id)).toEqual([first.id, first.id]); // under one id: the site keeps one
});

test('without a network it does not go on asking for each', async () => {
  answers = [{ is: 'later' }];
  const queue = begin();
  await queue.add(checkIn());
  await queue.add(checkIn());
  expect(await queue.flush('anna')).toHaveLength(2);
  expect(sent).toHaveLength(1);
});

test('two pages that send at once send each once', async () => {
  const [one, two] = [begin(), begin()];
  await one.add(checkIn());
  await one.add(checkIn());
  await Promise.all([one.flush('anna'), two.flush('anna')]);
  expect(sent).toHaveLength(2);
});

test('what is refused is kept with its sentence, not sent again, and dropped only by hand', async () => {
  answers = [{ is: 'refused', message: 'That day does not fit.' }];
  const [bad, good] = [checkIn(), checkIn()].sort((a, b) => (a.id < b.id ? -1 : 1));
  const queue = begin();
  await queue.add(bad!);
  await queue.add(good!);
  expect(await queue.flush('anna')).toMatchObject([{ id: bad!.id, refusal: 'That day does not fit.' }]);
  await queue.flush('anna');
  expect(sent).toHaveLength(2);
  await queue.drop(bad!.id);
  expect(await queue.list('anna')).toEqual([]);
});

test('another person on the same phone neither sees nor sends it', async () => {
  const queue = begin();
  await queue.add(checkIn());
  expect(await queue.list('ben')).toEqual([]);
  await queue.flush('ben');
  expect(sent).toEqual([]);
  expect(await queue.list('anna')).toHaveLength(1);
});

test('a lost network means later', async () => {
  const before = window.fetch;
  window.fetch = () => Promise.reject(new TypeError('offline'));
  const answerOf = (status: number, body: unknown) => {
    window.fetch = () => Promise.resolve(Response.json(body, { status }));
    return sendCheckIn({ ...checkIn(), refusal: null });
  };
  try {
    expect(await sendCheckIn({ ...checkIn(), refusal: null })).toEqual({ is: 'later' });
    expect(await answerOf(503, {})).toEqual({ is: 'later' });
    expect(await answerOf(401, {})).toEqual({ is: 'later' });
    expect(await answerOf(429, {})).toEqual({ is: 'later' });
    expect(await answerOf(200, { isPaused: false })).toEqual({ is: 'taken' });
    expect(await answerOf(400, { message: 'No.' })).toEqual({ is: 'refused', message: 'No.' });
  } finally {
    window.fetch = before;
  }
});
