import { spawn } from 'node:child_process';
import { mkdtemp, rm, writeFile } from 'node:fs/promises';
import os from 'node:os';
import path from 'node:path';
import { afterAll, beforeAll, describe, expect, it } from 'vitest';
import { buildInput } from '../domain/measures/build-input';

const ROOT = path.resolve(import.meta.dirname, '../..');
let folder: string;
beforeAll(async () => {
  folder = await mkdtemp(path.join(os.tmpdir(), 'cagepost-measure-'));
});
afterAll(() => rm(folder, { recursive: true, force: true }));

const record = () => {
  const { frame, bats, field, clickSd, ground, points } = buildInput({ clickSd: 0.5 });
  return { version: 1, frame, bats, field, clickSd, ground, points };
};

/** Runs `npm run --silent measure -- FILE` as somebody would in a terminal. */
const measure = (args: readonly string[], stdin = '') =>
  new Promise<{ code: number | null; out: string; err: string }>((resolve, reject) => {
    const child = spawn('npm', ['run', '--silent', 'measure', '--', ...args], { cwd: ROOT });
    const said = { out: '', err: '' };
    child.stdout.on('data', (chunk) => (said.out += String(chunk)));
    child.stderr.on('data', (chunk) => (said.err += String(chunk)));
    child.once('error', reject);
    child.once('close', (code) => resolve({ code, ...said }));
    child.stdin.end(stdin);
  });
const inFile = async (text: string) => {
  const file = path.join(folder, `${Math.abs(text.length * 31 + text.charCodeAt(0))}.json`);
  await writeFile(file, text);
  return file;
};

describe('npm run measure', () => {
  it('prints the answer to one record, and nothing else', async () => {
    const { code, out, err } = await measure([await inFile(JSON.stringify(record()))]);
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const answer = JSON.parse(out) as { version: number; measures: { name: string; value: number }[] };
    expect(answer.version).toBe(1);
    const foot = answer.measures.find(({ name }) => name === 'stride-foot-openness')!;
    expect(Math.abs(foot.value - 42)).toBeLessThan(0.5);
  });

  it('answers an array from standard input with an array', async () => {
    const few = { ...record(), ground: record().ground.slice(0, 3) };
    const { code, out, err } = await measure(['-'], JSON.stringify([record(), few]));
    expect({ code, err }).toEqual({ code: 0, err: '' });
    const answers = JSON.parse(out) as { camera: { status: string } }[];
    expect(answers.map(({ camera }) => camera.status)).toEqual(['found', 'refused']);
  });

  it.each([
    ['no JSON', '{"version": 1,', 'holds no valid JSON'],
    [
      'a number that is not finite',
      JSON.stringify(record()).replace('"clickSd":0.5', '"clickSd":1e999'),
      'at clickSd',
    ],
    ['a missing part', JSON.stringify([{ ...record(), points: undefined }]), 'at [0].points'],
  ])('ends with code 2 and one sentence for %s', async (_, text, sentence) => {
    const { code, out, err } = await measure([await inFile(text)]);
    expect({ code, out }).toEqual({ code: 2, out: '' });
    expect(err.trimEnd().split('\n')).toHaveLength(1);
    expect(err).toContain(sentence);
  });

  it('ends with code 2 without a file, or with one that is not there', async () => {
    expect(await measure([])).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('Name a file'),
    });
    const missing = await measure([path.join(folder, 'none.json')]);
    expect(missing).toMatchObject({
      code: 2,
      out: '',
      err: expect.stringContaining('cannot be read: ENOENT'),
    });
  });
});
