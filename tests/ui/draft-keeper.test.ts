import { afterEach, beforeEach, describe, expect, it, vi } from 'vitest';
import { createDraftKeeper } from '@/app/lessons/new/_send/draft-keeper';
import type { Answer } from '@/lib/domain/shared/result';

const ok: Answer<null> = { ok: true, value: null };

/** A save that is held until the test lets it go. */
const heldSaves = () => {
  const held: { value: string; answer: (answer: Answer<null>) => void; fail: () => void }[] = [];
  const keep = vi.fn(
    (value: string) =>
      new Promise<Answer<null>>((resolve, reject) => {
        held.push({ value, answer: resolve, fail: () => reject(new TypeError('Failed to fetch')) });
      }),
  );
  return { held, keep };
};

const settle = () => vi.advanceTimersByTimeAsync(0);

describe('the keeper of a draft', () => {
  beforeEach(() => void vi.useFakeTimers());
  afterEach(() => void vi.useRealTimers());

  const make = (isKept = true) => {
    const saves = heldSaves();
    const keepHere = vi.fn(async (_value: string, _isKept: boolean) => undefined);
    const keeper = createDraftKeeper({
      initial: 'a',
      isKept,
      keep: saves.keep,
      keepHere,
      quietMs: 500,
      retryMs: () => 1000,
    });
    return { ...saves, keepHere, keeper };
  };

  it('keeps a change on this device at once and at the program after a moment of quiet', async () => {
    const { keeper, keep, keepHere } = make();
    keeper.change(() => 'b');
    expect(keepHere).toHaveBeenCalledWith('b', false);
    await vi.advanceTimersByTimeAsync(499);
    expect(keep).not.toHaveBeenCalled();
    await vi.advanceTimersByTimeAsync(1);
    expect(keep).toHaveBeenCalledExactlyOnceWith('b');
  });

  it('has one save in flight and sends the latest edit after it, skipping what lay between', async () => {
    const { keeper, keep, held } = make();
    keeper.change(() => 'b');
    await vi.advanceTimersByTimeAsync(500);
    keeper.change(() => 'c');
    await vi.advanceTimersByTimeAsync(500);
    keeper.change(() => 'd');
    await vi.advanceTimersByTimeAsync(500);
    expect(keep).toHaveBeenCalledTimes(1);
    held[0]?.answer(ok);
    await settle();
    expect(keep.mock.calls.map(([value]) => value)).toEqual(['b', 'd']);
    expect(keeper.getSnapshot().keeping.kind).toBe('keeping');
    held[1]?.answer(ok);
    await settle();
    expect(keeper.getSnapshot().keeping.kind).toBe('kept');
  });

  it('says that it is kept here only while the network is away, and tries again by itself', async () => {
    const { keeper, keep, held } = make();
    keeper.change(() => 'b');
    await vi.advanceTimersByTimeAsync(500);
    held[0]?.fail();
    await settle();
    expect(keeper.getSnapshot().keeping.kind).toBe('kept-here');
    await vi.advanceTimersByTimeAsync(1000);
    expect(keep).toHaveBeenCalledTimes(2);
    held[1]?.answer(ok);
    await settle();
    expect(keeper.getSnapshot().keeping.kind).toBe('kept');
  });

  it('shows a refusal in words and does not repeat it until something changes', async () => {
    const { keeper, keep, held } = make();
    keeper.change(() => 'b');
    await vi.advanceTimersByTimeAsync(500);
    held[0]?.answer({ ok: false, fault: 'wrong-state', message: 'This lesson is sent already.' });
    await vi.advanceTimersByTimeAsync(60_000);
    expect(keeper.getSnapshot().keeping).toEqual({
      kind: 'refused',
      message: 'This lesson is sent already.',
    });
    expect(keep).toHaveBeenCalledTimes(1);
  });

  it('flushes at once, and tells whether the program has the latest', async () => {
    const { keeper, held } = make();
    keeper.change(() => 'b');
    const flushed = keeper.flush();
    held[0]?.answer(ok);
    await expect(flushed).resolves.toBe(true);
    keeper.change(() => 'c');
    const lost = keeper.flush();
    held[1]?.fail();
    await expect(lost).resolves.toBe(false);
  });

  it('sends what an earlier page could not', async () => {
    const { keeper, keep } = make(false);
    expect(keep).not.toHaveBeenCalled();
    keeper.start();
    await settle();
    expect(keep).toHaveBeenCalledExactlyOnceWith('a');
  });

  it('sends nothing more once it is disposed', async () => {
    const { keeper, keep } = make();
    keeper.change(() => 'b');
    keeper.dispose();
    await vi.advanceTimersByTimeAsync(60_000);
    expect(keep).not.toHaveBeenCalled();
  });
});
