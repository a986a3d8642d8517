import { expect, test } from 'vitest';
import {
  clipFolder,
  documentFolder,
  isOriginal,
  ownerOf,
  personalFolder,
  personalPart,
  remarkFolder,
} from '@/lib/domain/privacy/files';

const ID = '018f5e2a-0000-7000-8000-00000000c11b';

test.each([
  [`clips/${ID}/original.mov`, { folder: 'clips', id: ID, file: 'original.mov' }],
  [`breakdowns/${ID}/parts/0.part`, { folder: 'breakdowns', id: ID, file: 'parts/0.part' }],
  [`${remarkFolder(ID)}/voice.webm`, { folder: 'remarks', id: ID, file: 'voice.webm' }],
  [`${documentFolder(ID)}/invoice.pdf`, { folder: 'documents', id: ID, file: 'invoice.pdf' }],
  [personalPart(ID, 2), { folder: 'personal', id: ID, file: 'part-2.zip' }],
])('%s belongs to its row', (key, owner) => {
  expect(ownerOf(key)).toEqual(owner);
});

test.each([`clips/${ID}`, `caps/${ID}/a`, `clips/${ID}x/a`, `clips/x${ID}/a`, 'clips/short/a', 'clips', ''])(
  '%j is left alone: no sweep may take what it does not know',
  (key) => {
    expect(ownerOf(key)).toBeNull();
  },
);

test('all of a thing lies under one prefix', () => {
  expect(clipFolder(ID)).toBe(`clips/${ID}`);
  expect(personalPart(ID, 1).startsWith(`${personalFolder(ID)}/`)).toBe(true);
});

test('an original is known under whatever ending, and nothing else is one', () => {
  expect(['original.mov', 'aside.mp4'].map(isOriginal)).toEqual([true, true]);
  expect(
    ['rendition.mp4', 'not-original.mov', 'originals.mov', 'strip/original.jpg'].map(isOriginal),
  ).toEqual([false, false, false, false]);
});
