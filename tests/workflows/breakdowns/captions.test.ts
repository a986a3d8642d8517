import { once } from 'node:events';
import { createServer, type IncomingMessage, type Server, type ServerResponse } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterAll, afterEach, beforeAll, beforeEach, expect, test } from 'vitest';
import { readBreakdown } from '@/lib/data/breakdowns.read';
import { createCaptioner } from '@/lib/platform/captions';
import { makeCaptions } from '@/lib/workflows/make-captions';
import { requestCaptions } from '@/lib/workflows/request-captions';
import { saveCaptions } from '@/lib/workflows/save-captions';
import { assembleBreakdown } from '@/lib/workflows/assemble-breakdown';
import { keepBreakdown } from '@/lib/workflows/keep-breakdown';
import { reopenBreakdown } from '@/lib/workflows/reopen-breakdown';
import { openStudio, system } from './studio';

// A small speech service of our own: it takes what is posted, notes it and answers what the test says.

let studio: Awaited<ReturnType<typeof openStudio>>;
let server: Server;
let answer: (request: IncomingMessage, response: ServerResponse) => void;
let heard: { type: string; token: string; bytes: number }[];
beforeAll(async () => {
  studio = await openStudio();
});
afterAll(() => studio.close());
beforeEach(async () => {
  heard = [];
  server = createServer((request, response) => {
    let bytes = 0;
    request.on('data', (chunk: Buffer) => (bytes += chunk.length));
    request.on('end', () => {
      const { 'content-type': type = '', authorization: token = '' } = request.headers;
      heard.push({ type, token, bytes });
      answer(request, response);
    });
  });
  server.listen(0, '127.0.0.1');
  await once(server, 'listening');
});
afterEach(() => {
  server.closeAllConnections();
  server.close();
});

const VTT = 'WEBVTT\n\n00:00:00.500 --> 00:00:02.000\nYour front foot lands open.\n';
const vtt = (text: string) => (_: IncomingMessage, response: ServerResponse) =>
  void response.writeHead(200, { 'content-type': 'text/vtt; charset=utf-8' }).end(text);
const captioner = (more: { timeoutMs?: number } = {}) =>
  createCaptioner({
    url: `http://127.0.0.1:${(server.address() as AddressInfo).port}/transcribe`,
    token: 'a-token',
    ...more,
  });
const asked = async () => {
  const at = await studio.lesson();
  const { breakdownId } = await studio.ready(at);
  await requestCaptions(studio.ports, at.asCoach, breakdownId);
  const make = (one = captioner()) =>
    makeCaptions({ storage: at.storage, log: studio.ports.log, captioner: one }, system, breakdownId);
  const captions = async () => (await readBreakdown(at.asCoach, breakdownId))!.captions;
  return { ...at, breakdownId, make, captions };
};

test('what the service heard is a draft until the coach has read it over', async () => {
  const { make, captions, asCoach, breakdownId } = await asked();
  expect(await captions()).toMatchObject({ state: 'asked' });
  answer = vtt(VTT);
  expect(await make()).toBe('draft');
  expect(heard).toEqual([
    { type: 'audio/webm', token: 'Bearer a-token', bytes: expect.any(Number) as number },
  ]);
  expect(heard[0]!.bytes).toBeGreaterThan(5000);
  expect(await captions()).toMatchObject({ state: 'draft', vtt: VTT, fault: null, revision: 1 });
  await saveCaptions(asCoach, { breakdownId, baseRevision: 1, vtt: VTT, isReady: true });
  expect(await captions()).toMatchObject({ state: 'ready' });
});

test('it is asked by itself after a breakdown was put together', async () => {
  const at = await studio.lesson();
  const { breakdownId, recipe, parts } = await studio.ready(at);
  await reopenBreakdown(at.asCoach, breakdownId);
  const shorter = { ...recipe, pieces: recipe.pieces.map((piece) => ({ ...piece, toMs: 2000 })) };
  await keepBreakdown(studio.ports, at.asCoach, { breakdownId, recipe: shorter, parts });
  await assembleBreakdown(studio.assemblePorts(at.storage, { hasCaptioner: true }), system, breakdownId);
  expect(studio.ports.jobs).toContain(`captions ${breakdownId}`);
  expect((await readBreakdown(at.asCoach, breakdownId))!.captions.state).toBe('asked');
});

test.each<[string, (request: IncomingMessage, response: ServerResponse) => void, RegExp]>([
  ['it refuses', (_, response) => void response.writeHead(500).end('no'), /refused the voice/],
  ['it answers something else', vtt('{"text": "foot"}'), /are no captions/],
  ['it hears nothing', vtt('WEBVTT\n'), /heard no words/],
  [
    'it sends us elsewhere',
    (_, response) => void response.writeHead(302, { location: '/x' }).end(),
    /does not answer/,
  ],
  ['it breaks off', (_, response) => void response.destroy(), /does not answer/],
  [
    'it answers without end',
    (_, response) => void response.writeHead(200).end('WEBVTT '.repeat(700_000)),
    /more than/,
  ],
])('when %s, the captions are the coach’s, with a clear note', async (_, how, note) => {
  const { make, captions } = await asked();
  answer = how;
  expect(await make()).toBe('failed');
  const after = await captions();
  expect(after).toMatchObject({ state: 'none', vtt: '' });
  expect(after.fault).toMatch(note);
  expect(after.fault).toContain('Write the captions yourself');
});

test('when it takes too long, likewise', async () => {
  const { make, captions } = await asked();
  answer = () => {};
  expect(await make(captioner({ timeoutMs: 300 }))).toBe('failed');
  expect((await captions()).fault).toMatch(/took too long/);
});

test('what the coach wrote meanwhile stays', async () => {
  const { make, captions, asCoach, breakdownId } = await asked();
  const mine = VTT.replace('open', 'closed');
  await saveCaptions(asCoach, { breakdownId, baseRevision: 0, vtt: mine, isReady: false });
  answer = vtt(VTT);
  expect(await make()).toBe('nothing-to-do');
  expect((await captions()).vtt).toBe(mine);
});

test('it is not asked for one that has captions, nor for one that is not ready, nor by the player’s side', async () => {
  const { asCoach, asPlayer, breakdownId } = await asked();
  await expect(requestCaptions(studio.ports, asPlayer, breakdownId)).rejects.toMatchObject({
    fault: 'not-found',
  });
  await saveCaptions(asCoach, { breakdownId, baseRevision: 0, vtt: VTT, isReady: false });
  await expect(requestCaptions(studio.ports, asCoach, breakdownId)).rejects.toMatchObject({
    fault: 'wrong-state',
  });
});
