import { mkdtemp, readdir, rm } from 'node:fs/promises';
import { tmpdir } from 'node:os';
import path from 'node:path';
import { strFromU8, unzipSync } from 'fflate';
import { v7 as uuid } from 'uuid';
import { afterEach, beforeEach, describe, expect, test } from 'vitest';
import { prisma } from '@/lib/data/client';
import type { Everything } from '@/lib/domain/privacy/everything';
import { writeZip } from '@/lib/platform/zip-file';
import { askForCopy } from '@/lib/workflows/ask-for-copy';
import { bytesOf } from '@/lib/workflows/bytes-of';
import { makeCopy } from '@/lib/workflows/make-copy';
import { openCopy } from '@/lib/workflows/open-copy';
import { buildConcern } from '../../support/build-care';
import { buildMember } from '../../support/build';
import { viewerOf } from '../../support/viewers';
import { inDays, openHousehold, storedBreakdown, storedDrillClip, system } from './household';

let home: Awaited<ReturnType<typeof openHousehold>>;
let folder: string;
beforeEach(async () => {
  home = await openHousehold();
  folder = await mkdtemp(path.join(tmpdir(), 'cagepost-copy-'));
});
afterEach(async () => {
  await home.close();
  await rm(folder, { recursive: true, force: true });
});

const ports = () => ({
  ...home.ports,
  writeZip,
  engine: {
    workspace: async () => {
      const place = await mkdtemp(path.join(folder, 'try-'));
      return { folder: place, release: () => rm(place, { recursive: true, force: true }) };
    },
  },
});

const ask = async (by: { id: string }, about: { id: string }, id = uuid()) =>
  askForCopy(home.ports, await viewerOf(by, home.program), { id, personId: about.id as never });

/** Asks, makes and opens a copy; its files by name. */
async function unpacked(by: { id: string }, about: { id: string }) {
  const { copyId } = await ask(by, about);
  expect(await makeCopy(ports(), system, copyId)).toBe('ready');
  const { name, body } = await openCopy(home.ports, await viewerOf(by, home.program), copyId, 1);
  const chunks: Buffer[] = [];
  for await (const chunk of body) chunks.push(chunk as Buffer);
  const files = unzipSync(new Uint8Array(Buffer.concat(chunks)));
  const json = JSON.parse(strFromU8(files['everything.json']!)) as Everything;
  return { copyId, name, files, json, page: strFromU8(files['index.html']!) };
}

describe('a copy of everything about a child', () => {
  test('holds every file, the page and the same as JSON', async () => {
    const { name, files, json, page } = await unpacked(home.guardian, home.player);
    expect(name).toBe('everything-about-wren-sample.zip');
    expect(Object.keys(files).sort()).toEqual(
      [
        'everything.json',
        'index.html',
        'lessons/lesson-1/breakdown-1/captions.vtt',
        'lessons/lesson-1/breakdown-1/timeline.json',
        'lessons/lesson-1/breakdown-1/voice.webm',
        'lessons/lesson-1/clip-1/0.jpg',
        'lessons/lesson-1/clip-1/frames.json',
        'lessons/lesson-1/clip-1/original.mp4',
        'lessons/lesson-1/clip-1/poster.jpg',
        'lessons/lesson-1/clip-1/review.mp4',
      ].sort(),
    );
    // As it is, byte by byte: the builder writes the key into each file.
    const clip = `clips/${home.clip.id}/review.mp4`;
    expect(strFromU8(files['lessons/lesson-1/clip-1/review.mp4']!)).toBe(clip);
    expect(json.lessons[0]).toMatchObject({ question: 'Does my elbow drop?', painWhere: 'elbow' });
    expect(json.lessons[0]?.practice[0]?.checkIns[0]?.note).toBe('Sore elbow');
    expect(json.ledger).toMatchObject([{ kind: 'charge', amountMinor: 4500 }]);
    for (const words of [
      'Does my elbow drop?',
      'Rest the elbow.',
      'The elbow hurts.',
      'Sore elbow',
      'Cole Coach',
    ])
      expect(page).toContain(words);
    // Every link of the page leads to a file of the archive, and nothing is fetched from elsewhere.
    const links = [...page.matchAll(/(?:href|src)="([^"]+)"/g)].map((found) => found[1]!);
    expect(links.length).toBeGreaterThan(5);
    expect(links.filter((link) => !files[link])).toEqual([]);
    expect(page).not.toContain('<script');
  });

  test('has the clips of drills that a coach sent, with who is in them', async () => {
    await home.storage.remove(`remarks/${home.remark.id}`);
    const clip = await storedDrillClip(home.storage, home.drill, home.coach, { shows: 'sender' });
    await storedDrillClip(home.storage, home.drill, home.lead);
    const { files, json, page } = await unpacked(home.coach, home.coach);
    expect(json.drillClips).toMatchObject([{ drill: home.drill.title, shows: 'sender' }]);
    expect(strFromU8(files['drills/clip-1/review.mp4']!)).toBe(`clips/${clip.id}/review.mp4`);
    expect(Object.keys(files).filter((file) => file.startsWith('drills/'))).toHaveLength(3);
    expect(page).toContain('Its sender is in it');
    expect((await unpacked(home.guardian, home.player)).json.drillClips).toEqual([]);
  });

  test('tells nothing of the storage, of the sibling, or of what was not given yet', async () => {
    await storedBreakdown(home.storage, home.lesson, home.coach, home.coach, {
      isGiven: false,
      title: 'Not for them yet',
    });
    await buildConcern(home.program, home.player, { body: 'About this coach.' });
    const { files, json } = await unpacked(home.guardian, home.player);
    const text = JSON.stringify(json);
    for (const words of ['clips/', 'Joel', 'Not for them yet', 'About this coach', 'passwordHash'])
      expect(text).not.toContain(words);
    expect(Object.keys(files).filter((file) => file.includes('breakdown-2'))).toEqual([]);
  });

  test('leaves out a file that no archive takes, and says so', async () => {
    const { copyId } = await ask(home.guardian, home.player);
    const storage = {
      ...home.storage,
      size: async (key: string) => (key.endsWith('original.mp4') ? 5e9 : home.storage.size(key)),
    };
    expect(await makeCopy({ ...ports(), storage }, system, copyId)).toBe('ready');
    const files = unzipSync(
      (await bytesOf(home.storage, `personal/${copyId}/part-1.zip`)) ?? new Uint8Array(),
    );
    expect(Object.keys(files)).not.toContain('lessons/lesson-1/clip-1/original.mp4');
    const page = strFromU8(files['index.html']!);
    expect(page).toContain(
      'lessons/lesson-1/clip-1/original.mp4: fetch it from its lesson or drill on Cagepost.',
    );
    expect(page).not.toContain('href="lessons/lesson-1/clip-1/original.mp4"');
  });

  test('escapes what people wrote', async () => {
    await prisma.lesson.update({
      where: { id: home.lesson.id },
      data: { question: '<img src=x onerror=alert(1)>' },
    });
    const { page } = await unpacked(home.guardian, home.player);
    expect(page).toContain('&lt;img src=x onerror=alert(1)&gt;');
    expect(page).not.toContain('<img');
  });

  test('is announced, kept in the audit, and leaves nothing in the scratch folder', async () => {
    const { copyId } = await unpacked(home.guardian, home.player);
    const told = await prisma.notice.findMany({ where: { kind: 'copy-ready' } });
    expect(told.filter((one) => one.playerId === home.player.id).map((one) => one.personId)).toEqual([
      home.guardian.id,
    ]);
    const lines = await prisma.auditEntry.findMany({
      where: { subject: `person:${home.player.id}`, action: { startsWith: 'copy.' } },
      orderBy: { at: 'asc' },
    });
    expect(lines.map((line) => line.action)).toEqual(['copy.asked', 'copy.made', 'copy.opened']);
    expect(await readdir(folder)).toEqual([]);
    expect(await makeCopy(ports(), system, copyId)).toBe('nothing-to-do');
  });

  test('asked for while one is made is that one', async () => {
    const first = await ask(home.guardian, home.player);
    const second = await ask(home.guardian, home.player);
    expect(second).toEqual(first);
    expect(home.ports.jobs.filter((job) => job.startsWith('copy '))).toHaveLength(1);
  });

  test('that was killed halfway is made by the next try', async () => {
    const { copyId } = await ask(home.guardian, home.player);
    const dying = { ...ports(), writeZip: () => Promise.reject(new Error('The machine went down.')) };
    await expect(makeCopy(dying, system, copyId)).rejects.toThrow('went down');
    expect(await makeCopy(ports(), system, copyId)).toBe('ready');
  });

  test('of which the person was erased meanwhile is not made', async () => {
    const { copyId } = await ask(home.guardian, home.player);
    await prisma.person.update({ where: { id: home.player.id }, data: { erasedAt: new Date() } });
    expect(await makeCopy(ports(), system, copyId)).toBe('nothing-to-do');
    expect(await home.storage.list(`personal/${copyId}`)).toEqual([]);
  });
});

describe('who gets it', () => {
  test.each(['player', 'coach'] as const)('not the %s of a minor', async (who) => {
    await expect(ask(home[who], home.player)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('not a guardian of somebody else', async () => {
    const stranger = await buildMember(home.program, ['guardian']);
    await expect(ask(stranger, home.player)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('the lead of the program, and then nobody but the lead', async () => {
    const { copyId } = await unpacked(home.lead, home.player);
    const guardian = await viewerOf(home.guardian, home.program);
    await expect(openCopy(home.ports, guardian, copyId, 1)).rejects.toMatchObject({ fault: 'not-found' });
  });

  test('nobody after a day, nor a part that there is not', async () => {
    const { copyId } = await unpacked(home.guardian, home.player);
    const guardian = await viewerOf(home.guardian, home.program);
    for (const part of [0, 2])
      await expect(openCopy(home.ports, guardian, copyId, part)).rejects.toMatchObject({
        fault: 'not-found',
      });
    await expect(openCopy(home.at(inDays(1.01)), guardian, copyId, 1)).rejects.toMatchObject({
      fault: 'not-found',
    });
  });
});

test('a guardian’s own copy has their bills, children, consents and what they wrote', async () => {
  const { files, json } = await unpacked(home.guardian, home.guardian);
  expect(json.children.map((one) => one.name).sort()).toEqual(['Joel Sample', 'Wren Sample']);
  expect(json.written.map((one) => one.body)).toEqual(['The elbow feels better.']);
  expect(json.consents).toHaveLength(2);
  expect(json.documents).toHaveLength(1);
  const bill = Object.keys(files).find((file) => file.startsWith('bills/'));
  expect(strFromU8(files[bill ?? '']!)).toBe(`documents/${home.document.id}/document.pdf`);
});

test('a bill that nobody has opened yet is made for it', async () => {
  await home.storage.remove(`documents/${home.document.id}`);
  const { files } = await unpacked(home.guardian, home.guardian);
  const bill = Object.keys(files).find((file) => file.startsWith('bills/'));
  expect(strFromU8(files[bill ?? '']!.subarray(0, 5))).toBe('%PDF-');
  expect(await bytesOf(home.storage, `documents/${home.document.id}/document.pdf`)).not.toBeNull();
});

test('a coach’s own copy has checks, remarks and replies, and no player’s name', async () => {
  await home.storage.remove(`remarks/${home.remark.id}`);
  const { json, page } = await unpacked(home.coach, home.coach);
  expect(json.checks).toHaveLength(2);
  expect(json.remarks).toMatchObject([{ title: 'Stay tall', files: [] }]);
  expect(json.written.map((one) => one.body)).toEqual(['Rest the elbow.']);
  expect(json.coached).toHaveLength(2);
  expect(page).not.toContain('Wren');
});
