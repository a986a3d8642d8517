import { createServer, type Server } from 'node:http';
import type { AddressInfo } from 'node:net';
import { afterEach, expect, it } from 'vitest';
import { emptySheet } from '@/lib/domain/review/sheet';
import { httpSaveSheet } from '@/lib/review/drafts/sheet-transport';

let server: Server | undefined;
afterEach(() => new Promise<void>((resolve) => (server ? server.close(() => resolve()) : resolve())));

/** Saves to a real server that answers with this status and body; answers what it heard too. */
const saveTo = async (status: number, body: string) => {
  let heard: unknown = null;
  server = createServer((request, response) => {
    let text = '';
    request.on('data', (chunk: Buffer) => (text += chunk.toString()));
    request.on('end', () => {
      heard = {
        method: request.method,
        type: request.headers['content-type'],
        body: JSON.parse(text) as unknown,
      };
      response.writeHead(status, { connection: 'close' }).end(body);
    });
  });
  await new Promise<void>((resolve) => server?.listen(0, '127.0.0.1', resolve));
  const { port } = server.address() as AddressInfo;
  const answer = await httpSaveSheet(`http://127.0.0.1:${port}/sheet`)(
    { baseRevision: 4, sheet: emptySheet() },
    { keepalive: false },
  );
  return { answer, heard };
};

it('sends base revision and sheet, and reads the new revision', async () => {
  const { answer, heard } = await saveTo(200, '{"revision":5}');
  expect(answer).toEqual({ is: 'kept', revision: 5 });
  expect(heard).toEqual({
    method: 'PUT',
    type: 'application/json',
    body: { baseRevision: 4, sheet: emptySheet() },
  });
});

it('hands on what somebody else saved', async () => {
  const theirs = { sheet: emptySheet(), revision: 9, byName: 'Dana', at: '2026-11-25T20:00:00.000Z' };
  expect((await saveTo(409, JSON.stringify(theirs))).answer).toEqual({ is: 'stale', ...theirs });
});

it.each([
  [409, '{"message":"This lesson was returned."}', { is: 'refused', sentence: 'This lesson was returned.' }],
  [400, 'no json', { is: 'refused', sentence: 'Cagepost did not take this change.' }],
  [404, '{"message":"Not yours."}', { is: 'refused', sentence: 'Not yours.' }],
  [503, '', { is: 'failed', sentence: 'Cagepost could not save just now.' }],
  [429, '{"message":"Wait a little."}', { is: 'failed', sentence: 'Wait a little.' }],
  [200, '<html>a captive portal</html>', { is: 'failed', sentence: 'Cagepost could not save just now.' }],
])('reads status %d with %s', async (status, body, expected) => {
  expect((await saveTo(status, body)).answer).toEqual(expected);
});

it('answers a lost connection instead of throwing', async () => {
  const save = httpSaveSheet('http://127.0.0.1:9/closed');
  expect(await save({ baseRevision: 0, sheet: emptySheet() }, { keepalive: false })).toEqual({
    is: 'failed',
    sentence: 'There is no connection.',
  });
});
