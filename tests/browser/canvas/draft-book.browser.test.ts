import { afterEach, describe, expect, it } from 'vitest';
import { answer } from '@/lib/domain/review/edits';
import { emptySheet } from '@/lib/domain/review/sheet';
import { createDraftBook, type Draft } from '@/lib/review/drafts/draft-book';

const buildDraft = (overrides: Partial<Draft> = {}): Draft => ({
  id: crypto.randomUUID(),
  owner: 'coach/lesson',
  base: emptySheet(),
  baseRevision: 3,
  sheet: answer(emptySheet(), 'front-foot', { verdict: 'off' }),
  sent: [],
  at: '2026-11-25T19:00:00.000Z',
  ...overrides,
});
const NAME = 'cagepost-drafts-test';
const releases: (() => void)[] = [];

afterEach(async () => {
  for (const release of releases.splice(0)) release();
  for (const owner of ['coach/lesson', 'other/lesson']) {
    const book = createDraftBook(NAME);
    for (const draft of await book.claim(owner)) await book.drop(draft.id);
  }
});

describe('the draft book in IndexedDB', () => {
  it('gives back to the owner what was kept, oldest first, and to nobody else', async () => {
    const book = createDraftBook(NAME);
    const [late, early] = [
      buildDraft({ at: '2026-11-25T20:00:00.000Z', sent: [emptySheet()] }),
      buildDraft(),
    ];
    await book.keep(late);
    await book.keep(early);
    await book.keep(buildDraft({ owner: 'other/lesson' }));
    expect(await createDraftBook(NAME).claim('coach/lesson')).toEqual([early, late]);
    await book.drop(early.id);
    expect(await book.claim('coach/lesson')).toEqual([late]);
  });

  it('leaves a draft to the bench that holds it, until that one is gone', async () => {
    const book = createDraftBook(NAME);
    const draft = buildDraft();
    await book.keep(draft);
    const release = book.hold(draft.id);
    releases.push(release);
    await expect.poll(() => book.claim('coach/lesson')).toEqual([]);
    release();
    await expect.poll(() => book.claim('coach/lesson')).toEqual([draft]);
  });

  it('passes over what cannot be read', async () => {
    const book = createDraftBook(NAME);
    const broken = { ...buildDraft(), sheet: { version: 1, marks: 'gone' } } as unknown as Draft;
    await book.keep(broken);
    expect(await book.claim('coach/lesson')).toEqual([]);
    await book.drop(broken.id);
  });
});
