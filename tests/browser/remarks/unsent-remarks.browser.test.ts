import { openDB } from 'idb';
import { afterEach, beforeEach, expect, test } from 'vitest';
import { CagepostError } from '@/lib/domain/shared/errors';
import { sendRemark } from '@/lib/review/remarks/spoken-remark';
import {
  openUnsentRemarks,
  sendUnsent,
  type UnsentRemark,
  type UnsentRemarks,
} from '@/lib/review/remarks/unsent-remarks';

const ANNA = 'anna';
const build = (over: Partial<UnsentRemark> = {}): UnsentRemark => ({
  id: crypto.randomUUID(),
  seriesId: crypto.randomUUID(),
  personId: ANNA,
  title: 'Front foot',
  text: '',
  keptAt: '2026-11-25T18:00:00.000Z',
  voice: Uint8Array.of(1, 10, 3).buffer,
  voiceType: 'audio/webm;codecs=opus',
  durationMs: 2400,
  ...over,
});
const taken = async () => ({ ok: true });
const sent = async () => undefined;

let name: string;
let store: UnsentRemarks;
beforeEach(() => {
  name = `remarks-${crypto.randomUUID()}`;
  store = openUnsentRemarks(name);
});
afterEach(() => {
  store.close();
  indexedDB.deleteDatabase(name);
});

test('what was kept is there for a page that comes later, voice and all, and only for whose it is', async () => {
  const [first, second] = [build(), build({ keptAt: '2026-11-25T19:00:00.000Z', title: 'Hands' })];
  for (const remark of [second, first, build({ personId: 'ben' })])
    expect(await store.keep(remark)).toBe(true);
  store.close();
  store = openUnsentRemarks(name);
  const left = await store.list(ANNA);
  expect(left.map((one) => one.title)).toEqual(['Front foot', 'Hands']);
  expect([...new Uint8Array(left[0]!.voice)]).toEqual([1, 10, 3]);
});

test('sent, it goes from this browser', async () => {
  const remark = build();
  await store.keep(remark);
  const voices: unknown[] = [];
  const send: typeof sendRemark = async (id, spoken) => void voices.push([id, [...spoken.voice]]);
  expect(await sendUnsent(store, remark, taken, send)).toBeNull();
  expect(voices).toEqual([[remark.id, [1, 10, 3]]]);
  expect(await store.list(ANNA)).toEqual([]);
});

test.each<[string, Parameters<typeof sendUnsent>[2], typeof sendRemark, RegExp]>([
  [
    'the connection is lost',
    () => Promise.reject(new TypeError('Failed to fetch')),
    sent,
    /kept on this device/,
  ],
  ['the shelf refuses it', async () => ({ ok: false, message: 'Give it a title.' }), sent, /Give it a title/],
  [
    'the voice is refused',
    taken,
    () => Promise.reject(new CagepostError('unavailable', 'You are signed out. The voice is kept.')),
    /signed out/,
  ],
  // The page's own server takes no uploads: the real way there ends with its answer.
  ['there is nobody to take the voice', taken, sendRemark, /connection is lost.*kept on this device/i],
])('when %s it stays, with a sentence, and is sent the next time', async (_, putOnShelf, send, words) => {
  const remark = build();
  await store.keep(remark);
  expect(await sendUnsent(store, remark, putOnShelf, send)).toMatch(words);
  expect(await store.list(ANNA)).toHaveLength(1);
  expect(await sendUnsent(store, remark, taken, sent)).toBeNull();
  expect(await store.list(ANNA)).toEqual([]);
});

test('what cannot be read is left out, the others are offered', async () => {
  await store.keep(build({ title: 'Whole' }));
  const db = await openDB(name);
  for (const broken of [{ voice: 'no bytes' }, { voice: new ArrayBuffer(0) }, { durationMs: -1 }])
    await db.put('unsent', { ...build(), ...broken });
  db.close();
  expect((await store.list(ANNA)).map((one) => one.title)).toEqual(['Whole']);
});

test('a browser that keeps nothing says so', async () => {
  const remark = { ...build(), voice: (() => undefined) as never };
  expect(await store.keep(remark)).toBe(false);
});
