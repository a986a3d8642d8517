import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { answer, answerOf, putMark, setFixFirst } from '@/lib/domain/review/edits';
import { emptySheet, type Sheet } from '@/lib/domain/review/sheet';
import type { Draft, DraftBook } from '@/lib/review/drafts/draft-book';
import { createSheetSaver, type SheetSaver } from '@/lib/review/drafts/sheet-saver';
import type { SaveAnswer, SaveRequest } from '@/lib/review/drafts/sheet-transport';
import { buildMark } from '../../domain/marks/build-mark';

/** A book in memory that may be broken; `drafts` is what a browser would find after a crash. */
const buildBook = () => {
  const drafts = new Map<string, Draft>();
  const held = new Set<string>();
  const book: DraftBook & { isBroken: boolean; drafts: typeof drafts; held: typeof held } = {
    isBroken: false,
    drafts,
    held,
    keep: async (draft) => {
      if (book.isBroken) throw new Error('The disk is full.');
      drafts.set(draft.id, structuredClone(draft));
    },
    drop: async (id) => void drafts.delete(id),
    claim: async (owner) => [...drafts.values()].filter((d) => d.owner === owner && !held.has(d.id)),
    hold: (id) => {
      held.add(id);
      return () => held.delete(id);
    },
  };
  return book;
};

/** A server that keeps revisions as the real one does. Every request waits until the test lets it through. */
const buildServer = (sheet: Sheet = emptySheet()) => {
  const waiting: { request: SaveRequest; keepalive: boolean; answer: (a: SaveAnswer) => void }[] = [];
  const server = {
    sheet,
    revision: 1,
    requests: 0,
    waiting,
    /** Another person's save. */
    write: (next: Sheet) => {
      server.sheet = next;
      server.revision += 1;
    },
    save: (request: SaveRequest, options: { keepalive: boolean }) => {
      server.requests += 1;
      return new Promise<SaveAnswer>((resolve) => waiting.push({ request, ...options, answer: resolve }));
    },
    /** Works on the oldest request; answers it, or loses the answer on the way back. */
    handle: async (how: 'answer' | 'lose the answer' | 'no connection' | { refuse: string } = 'answer') => {
      const next = waiting.shift();
      if (!next) throw new Error('No request is waiting.');
      if (typeof how === 'object') next.answer({ is: 'refused', sentence: how.refuse });
      else if (how === 'no connection') next.answer({ is: 'failed', sentence: 'There is no connection.' });
      else {
        const result = server.take(next.request);
        next.answer(how === 'answer' ? result : { is: 'failed', sentence: 'The answer got lost.' });
      }
      await vi.advanceTimersByTimeAsync(0);
      return next;
    },
    take: (request: SaveRequest): SaveAnswer => {
      if (request.baseRevision !== server.revision) {
        const { sheet: theirs, revision } = server;
        return { is: 'stale', sheet: theirs, revision, byName: 'Dana', at: '2026-11-25T20:00:00.000Z' };
      }
      server.write(request.sheet);
      return { is: 'kept', revision: server.revision };
    },
  };
  return server;
};

let open: SheetSaver[] = [];
const openSaver = (server: ReturnType<typeof buildServer>, book = buildBook(), draftId = 'draft-1') => {
  const saver = createSheetSaver({
    owner: 'coach/lesson',
    draftId,
    server: { sheet: server.sheet, revision: server.revision },
    save: server.save,
    book,
  });
  open.push(saver);
  return saver;
};
const judge = (itemId: string, verdict: 'set' | 'close' | 'off') => (s: Sheet) =>
  answer(s, itemId, { verdict });
const stateOf = (saver: SheetSaver) => saver.getSnapshot().state.is;
const verdictOf = (sheet: Sheet, itemId: string) => answerOf(sheet, itemId).verdict;

beforeEach(() => vi.useFakeTimers({ now: new Date('2026-11-25T19:00:00Z') }));
afterEach(() => {
  for (const saver of open) saver.dispose();
  open = [];
  vi.useRealTimers();
});

describe('saving', () => {
  it('waits for a pause, sends once, and says when it was kept', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    expect(stateOf(saver)).toBe('unsaved');
    await vi.advanceTimersByTimeAsync(300);
    saver.edit(judge('front-foot', 'close'));
    await vi.advanceTimersByTimeAsync(599);
    expect(server.waiting).toHaveLength(0);
    await vi.advanceTimersByTimeAsync(1);
    expect(stateOf(saver)).toBe('saving');
    await server.handle();
    expect(saver.getSnapshot().state).toEqual({ is: 'kept', at: '2026-11-25T19:00:00.900Z' });
    expect(verdictOf(server.sheet, 'front-foot')).toBe('close');
    expect(server.requests).toBe(1);
  });

  it('does not wait for ever while somebody keeps writing', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    for (let i = 0; i < 9; i += 1) {
      saver.edit((s) => answer(s, 'front-foot', { note: `Word ${i}` }));
      await vi.advanceTimersByTimeAsync(500);
    }
    expect(server.waiting).toHaveLength(1);
  });

  it('never drops an edit that is made while a save is held up', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    saver.edit(judge('full-finish', 'set'));
    saver.edit(judge('front-foot', 'close'));
    await vi.advanceTimersByTimeAsync(60_000);
    expect(server.requests).toBe(1); // one in flight, however long it takes
    await server.handle();
    expect(stateOf(saver)).not.toBe('kept');
    await vi.advanceTimersByTimeAsync(1);
    await server.handle();
    expect(stateOf(saver)).toBe('kept');
    expect(verdictOf(server.sheet, 'front-foot')).toBe('close');
    expect(verdictOf(server.sheet, 'full-finish')).toBe('set');
  });

  it('does not call it kept when an edit was taken back while the save was on its way', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    saver.edit(() => emptySheet());
    const flushed = saver.flush();
    await server.handle();
    await vi.advanceTimersByTimeAsync(0);
    await server.handle();
    expect(await flushed).toBe(true);
    expect(server.sheet).toEqual(emptySheet());
  });

  it('waits for the last edit when the page is left in the middle of a slow save', async () => {
    const server = buildServer();
    const book = buildBook();
    const saver = openSaver(server, book);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    saver.edit(judge('full-finish', 'set'));
    saver.leave();
    saver.dispose();
    await vi.advanceTimersByTimeAsync(0);
    expect(server.waiting[0]?.keepalive).toBe(true); // may outlive the page
    await server.handle();
    // The next page finds the second edit in the book and sends it.
    const next = openSaver(server, book, 'draft-2');
    await vi.advanceTimersByTimeAsync(1);
    expect(verdictOf(next.getSnapshot().sheet, 'full-finish')).toBe('set');
    await server.handle();
    expect(verdictOf(server.sheet, 'front-foot')).toBe('off');
    expect(verdictOf(server.sheet, 'full-finish')).toBe('set');
    expect(book.drafts.size).toBe(0);
    expect(next.getSnapshot().joined).toBeNull();
  });

  it('sends what waits when the page is left, and leaves out keepalive for what is too large for it', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    const point = { x: 1 / 3, y: 2 / 3 };
    const scribble = buildMark('freehand', { points: Array.from({ length: 2000 }, () => point) });
    saver.edit((s) => putMark(s, scribble));
    saver.leave();
    expect(server.waiting[0]?.keepalive).toBe(false);
  });
});

describe('without a connection', () => {
  it('says so, keeps it in the browser, and sends the latest when it is back', async () => {
    const server = buildServer();
    const book = buildBook();
    const saver = openSaver(server, book);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    await server.handle('no connection');
    expect(saver.getSnapshot().state).toMatchObject({ is: 'unsaved', why: 'failed', inBrowser: true });
    saver.edit(judge('front-foot', 'set'));
    await vi.advanceTimersByTimeAsync(0);
    expect(verdictOf(book.drafts.get('draft-1')!.sheet, 'front-foot')).toBe('set');
    await vi.advanceTimersByTimeAsync(1000);
    await server.handle();
    expect(stateOf(saver)).toBe('kept');
    expect(verdictOf(server.sheet, 'front-foot')).toBe('set');
    expect(book.drafts.size).toBe(0);
  });

  it('backs off, and never gives up', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    for (const wait of [600, 1000, 2000, 5000, 15_000, 30_000, 30_000]) {
      await vi.advanceTimersByTimeAsync(wait);
      await server.handle('no connection');
    }
    expect(server.requests).toBe(7);
    await vi.advanceTimersByTimeAsync(30_000);
    await server.handle();
    expect(stateOf(saver)).toBe('kept');
  });

  it('does not take its own save, whose answer was lost, for somebody else’s', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    await server.handle('lose the answer');
    saver.edit(judge('front-foot', 'set'));
    await vi.advanceTimersByTimeAsync(1000);
    await server.handle('no connection'); // the second try never arrives
    saver.edit(judge('front-foot', 'close'));
    await vi.advanceTimersByTimeAsync(2000);
    await server.handle(); // stale: the server holds the very first
    await vi.advanceTimersByTimeAsync(1);
    await server.handle();
    expect(stateOf(saver)).toBe('kept');
    expect(saver.getSnapshot().joined).toBeNull();
    expect(verdictOf(server.sheet, 'front-foot')).toBe('close');
  });

  it('takes up after a crash what the browser kept, once', async () => {
    const server = buildServer();
    const book = buildBook();
    openSaver(server, book).edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(0);
    book.held.clear(); // the tab is gone, its draft is not
    const next = openSaver(server, book, 'draft-2');
    await vi.advanceTimersByTimeAsync(1);
    expect(verdictOf(next.getSnapshot().sheet, 'front-foot')).toBe('off');
    expect([...book.drafts.keys()]).toEqual(['draft-2']);
    await server.handle();
    expect(book.drafts.size).toBe(0);
  });

  it('asks when the lesson moved on since the crash in the same place', async () => {
    const server = buildServer();
    const book = buildBook();
    openSaver(server, book).edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(0);
    book.held.clear();
    server.write(judge('front-foot', 'set')(emptySheet()));
    const next = openSaver(server, book, 'draft-2');
    await vi.advanceTimersByTimeAsync(1);
    expect(next.getSnapshot().state).toMatchObject({ is: 'conflict' });
    // Writing on elsewhere does not make the question go away.
    next.edit(judge('full-finish', 'set'));
    expect(stateOf(next)).toBe('conflict');
    next.choose('with-mine');
    await vi.advanceTimersByTimeAsync(1);
    await server.handle();
    expect(verdictOf(server.sheet, 'front-foot')).toBe('off');
    expect(verdictOf(server.sheet, 'full-finish')).toBe('set');
    expect(stateOf(next)).toBe('kept');
  });

  it('leaves alone what another open tab still holds', async () => {
    const server = buildServer();
    const book = buildBook();
    openSaver(server, book).edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(0);
    const second = openSaver(server, book, 'draft-2');
    await vi.advanceTimersByTimeAsync(1);
    expect(verdictOf(second.getSnapshot().sheet, 'front-foot')).toBeNull();
    expect([...book.drafts.keys()]).toEqual(['draft-1']);
  });

  it('says when not even the browser could keep it', async () => {
    const server = buildServer();
    const book = buildBook();
    book.isBroken = true;
    const saver = openSaver(server, book);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    await server.handle('no connection');
    expect(saver.getSnapshot().state).toMatchObject({ is: 'unsaved', inBrowser: false });
  });
});

describe('two at once', () => {
  const twoTabs = async (first: (s: Sheet) => Sheet, second: (s: Sheet) => Sheet) => {
    const server = buildServer(answer(emptySheet(), 'front-foot', { note: 'From before' }));
    const [one, two] = [openSaver(server), openSaver(server, buildBook(), 'draft-2')];
    one.edit(first);
    two.edit(second);
    await vi.advanceTimersByTimeAsync(600);
    await server.handle();
    await server.handle();
    return { server, two };
  };

  it('joins what touches different things, keeps both, and tells it', async () => {
    const fix = { itemId: 'front-foot', sentence: 'Land closed.' };
    const { server, two } = await twoTabs(judge('front-foot', 'off'), (s) => setFixFirst(s, fix));
    expect(two.getSnapshot().joined).toEqual({ byName: 'Dana', at: '2026-11-25T20:00:00.000Z', count: 1 });
    expect(verdictOf(two.getSnapshot().sheet, 'front-foot')).toBe('off');
    await vi.advanceTimersByTimeAsync(1);
    await server.handle();
    expect(server.sheet).toEqual(setFixFirst(answer(server.sheet, 'front-foot', { verdict: 'off' }), fix));
    expect(server.sheet.fixFirst).toEqual(fix);
    two.readJoined();
    expect(two.getSnapshot().joined).toBeNull();
  });

  it.each([
    ['with-mine', 'close'],
    ['mine', 'close'],
    ['theirs', 'off'],
  ] as const)('asks when both changed one thing; %s keeps %s', async (choice, verdict) => {
    const { server, two } = await twoTabs(judge('front-foot', 'off'), judge('front-foot', 'close'));
    const { state } = two.getSnapshot();
    expect(state).toMatchObject({ is: 'conflict', byName: 'Dana' });
    expect(state.is === 'conflict' && state.conflicts).toMatchObject([
      { thing: 'answer', key: 'front-foot', mine: { verdict: 'close' }, theirs: { verdict: 'off' } },
    ]);
    await vi.advanceTimersByTimeAsync(60_000);
    expect(server.waiting).toHaveLength(0); // nothing is sent over theirs unasked
    expect(verdictOf(server.sheet, 'front-foot')).toBe('off');
    two.choose(choice);
    await vi.advanceTimersByTimeAsync(1);
    if (choice !== 'theirs') await server.handle();
    expect(stateOf(two)).toBe('kept');
    expect(verdictOf(server.sheet, 'front-foot')).toBe(verdict);
    expect(verdictOf(two.getSnapshot().sheet, 'front-foot')).toBe(verdict);
  });

  it('does not claim to have saved while a choice is open', async () => {
    const { two } = await twoTabs(judge('front-foot', 'off'), judge('front-foot', 'close'));
    expect(await two.flush()).toBe(false);
  });

  it('closes the question by itself when the coach writes what the other wrote', async () => {
    const { two } = await twoTabs(judge('front-foot', 'off'), judge('front-foot', 'close'));
    two.edit(judge('front-foot', 'off'));
    expect(stateOf(two)).toBe('kept');
  });
});

describe('refused', () => {
  it('keeps the writing in the browser, tries again when asked, drops it when asked', async () => {
    const server = buildServer();
    const book = buildBook();
    const saver = openSaver(server, book);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    await server.handle({ refuse: 'This lesson was withdrawn.' });
    expect(saver.getSnapshot().state).toEqual({
      is: 'refused',
      sentence: 'This lesson was withdrawn.',
      inBrowser: true,
    });
    saver.edit(judge('full-finish', 'set'));
    await vi.advanceTimersByTimeAsync(60_000);
    expect(server.requests).toBe(1);
    expect(verdictOf(book.drafts.get('draft-1')!.sheet, 'full-finish')).toBe('set');
    saver.choose('mine');
    await vi.advanceTimersByTimeAsync(1);
    await server.handle({ refuse: 'This lesson was withdrawn.' });
    saver.choose('theirs');
    await vi.advanceTimersByTimeAsync(1);
    expect(saver.getSnapshot().sheet).toEqual(emptySheet());
    expect(book.drafts.size).toBe(0);
  });

  it('stops at a sheet of somebody else that it cannot read', async () => {
    const server = buildServer();
    const saver = openSaver(server);
    saver.edit(judge('front-foot', 'off'));
    await vi.advanceTimersByTimeAsync(600);
    server.write({ ...emptySheet(), version: 2 } as never);
    await server.handle();
    expect(stateOf(saver)).toBe('refused');
    expect(verdictOf(saver.getSnapshot().sheet, 'front-foot')).toBe('off');
  });
});
